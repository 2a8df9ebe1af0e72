//! What is inside the file, as SQL.

use quantity::shown::counted;
use rusqlite::Connection;
use std::collections::BTreeMap;
use std::fmt;

/// Marks an SQLite file as one of our logs (`PRAGMA application_id`): "jigt" in ASCII.
pub const APPLICATION_ID: i32 = 0x6a69_6774;

/// The newest format this build knows (`PRAGMA user_version`). A log starts with format 1, and becomes format 2 with
/// its first entry that format 1 does not know.
pub const FORMAT: i32 = 2;

/// The format of an empty log.
const FIRST_FORMAT: i32 = 1;

/// Raises the file's format to that of an entry about to be written, inside the caller's transaction.
pub fn raise_format(conn: &Connection, format: i32) -> rusqlite::Result<()> {
    if format > FIRST_FORMAT && format > self::format(conn)? {
        conn.pragma_update(None, "user_version", format)?;
    }
    Ok(())
}

/// The format that the file states.
pub fn format(conn: &Connection) -> rusqlite::Result<i32> {
    conn.pragma_query_value(None, "user_version", |row| row.get(0))
}

/// True for a format that this program reads and writes.
pub const fn knows(format: i32) -> bool {
    format >= FIRST_FORMAT && format <= FORMAT
}

/// `AUTOINCREMENT` keeps the highest number ever given apart from the table, so that entries missing from the end
/// show.
const ENTRY: &str = r#"CREATE TABLE entry(
  seq INTEGER PRIMARY KEY AUTOINCREMENT,
  at INTEGER NOT NULL,
  "by" TEXT NOT NULL,
  kind TEXT NOT NULL,
  body TEXT NOT NULL,
  hash BLOB NOT NULL CHECK(length(hash) = 32)
) STRICT"#;

/// Everything but readings, so that the last stage is found quickly in a long log; readings cost nothing.
const BY_KIND: &str = "CREATE INDEX entry_by_kind ON entry(kind) WHERE kind <> 'reading'";

const NO_UPDATE: &str = "CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry
BEGIN SELECT raise(ABORT, 'an entry is never changed; withdraw it by a later one'); END";

const NO_DELETE: &str = "CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry
BEGIN SELECT raise(ABORT, 'an entry is never removed; withdraw it by a later one'); END";

/// Also refuses `INSERT OR REPLACE`, which would get past the trigger on DELETE.
const ONLY_NEXT: &str = "CREATE TRIGGER entry_only_next BEFORE INSERT ON entry
WHEN NEW.seq IS NOT (SELECT coalesce(max(seq), 0) + 1 FROM entry)
BEGIN SELECT raise(ABORT, 'an entry takes the next number'); END";

const READINGS: &str = r#"CREATE VIEW readings AS SELECT
  seq,
  strftime('%Y-%m-%dT%H:%M:%fZ', at / 1000.0, 'unixepoch') AS time_utc,
  "by",
  body ->> '$.point' AS point,
  body ->> '$.text' AS as_typed,
  CASE body ->> '$.quantity' WHEN 'angle' THEN body ->> '$.value' END AS angle_deg,
  CASE body ->> '$.quantity' WHEN 'length' THEN body ->> '$.value' END AS length_mm,
  CASE body ->> '$.quantity' WHEN 'torque' THEN body ->> '$.value' END AS torque_newton_metre,
  CASE body ->> '$.quantity' WHEN 'temperature' THEN body ->> '$.value' END AS temperature_celsius,
  body ->> '$.resolution' AS resolution_same_unit,
  body ->> '$.facing' AS facing,
  body ->> '$.instrument' AS instrument,
  body ->> '$.temperature' AS part_temperature_celsius,
  body ->> '$.round' AS round,
  body ->> '$.source' AS source,
  body ->> '$.note' AS note,
  seq IN (SELECT entry FROM withdrawals) AS withdrawn
FROM entry WHERE kind = 'reading'"#;

const STAGES: &str = r#"CREATE VIEW stages AS SELECT
  seq,
  strftime('%Y-%m-%dT%H:%M:%fZ', at / 1000.0, 'unixepoch') AS time_utc,
  "by",
  body ->> '$.name' AS stage
FROM entry WHERE kind = 'stage'"#;

const MOVES: &str = r#"CREATE VIEW moves AS SELECT
  seq,
  strftime('%Y-%m-%dT%H:%M:%fZ', at / 1000.0, 'unixepoch') AS time_utc,
  "by",
  body ->> '$.support' AS support,
  body ->> '$.amount' AS amount_mm,
  body ->> '$.text' AS as_typed
FROM entry WHERE kind = 'move'"#;

const WITHDRAWALS: &str = r#"CREATE VIEW withdrawals AS SELECT
  seq,
  strftime('%Y-%m-%dT%H:%M:%fZ', at / 1000.0, 'unixepoch') AS time_utc,
  "by",
  body ->> '$.seq' AS entry,
  body ->> '$.reason' AS reason
FROM entry WHERE kind = 'withdrawn'"#;

/// SQLite's own table for what `AUTOINCREMENT` counts.
const SEQUENCE: (&str, &str) = ("sqlite_sequence", "CREATE TABLE sqlite_sequence(name,seq)");

/// Every object of the file, by name.
const OBJECTS: [(&str, &str); 9] = [
    ("entry", ENTRY),
    ("entry_by_kind", BY_KIND),
    ("entry_no_update", NO_UPDATE),
    ("entry_no_delete", NO_DELETE),
    ("entry_only_next", ONLY_NEXT),
    ("withdrawals", WITHDRAWALS),
    ("readings", READINGS),
    ("stages", STAGES),
    ("moves", MOVES),
];

/// Lays out an empty file, inside the caller's transaction.
pub fn lay_out(conn: &Connection) -> rusqlite::Result<()> {
    conn.pragma_update(None, "application_id", APPLICATION_ID)?;
    conn.pragma_update(None, "user_version", FIRST_FORMAT)?;
    OBJECTS.iter().try_for_each(|(_, sql)| conn.execute_batch(sql))
}

/// Removes the guard that costs each inserted row a copy of its page, until [`guard`] in the same transaction: nobody
/// else ever sees the log without it.
pub fn unguard(conn: &Connection) -> rusqlite::Result<()> {
    conn.execute_batch("DROP TRIGGER entry_only_next")
}

/// Puts it back.
pub fn guard(conn: &Connection) -> rusqlite::Result<()> {
    conn.execute_batch(ONLY_NEXT)
}

/// What differs from the layout that this crate made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Alteration {
    /// Everything that differs.
    pub changes: Vec<Change>,
}

/// One object of the file that was changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    pub name: String,
    /// What is wrong with it.
    pub how: How,
}

/// What is wrong with an object of the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Not in the file.
    Missing,
    /// It differs from what was made.
    Different,
    /// It is not one of ours.
    Foreign,
    /// It does not give the number of entries ever written.
    Count,
    /// It states an older format than one of its entries has, so an older program would misread it.
    Format,
    /// The file has this many bytes after its last page.
    Longer(u64),
    /// The file lacks this many bytes of its pages.
    Shorter(u64),
}

impl Alteration {
    /// The file's own count of entries was changed.
    pub(crate) fn of_count() -> Self {
        Self { changes: vec![Change { name: "sqlite_sequence".to_owned(), how: How::Count }] }
    }

    /// The file states an older format than its entries have.
    pub(crate) fn of_format() -> Self {
        Self { changes: vec![Change { name: "user_version".to_owned(), how: How::Format }] }
    }

    /// Both.
    pub(crate) fn and(mut self, other: Self) -> Self {
        self.changes.extend(other.changes);
        self
    }

    /// Whether the table of entries is still a plain table of the right make.
    pub(crate) fn table_is_sound(&self) -> bool {
        self.changes.iter().all(|c| c.name != "entry")
    }
}

impl fmt::Display for Alteration {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, Change { name, how }) in self.changes.iter().enumerate() {
            f.write_str(if i > 0 { ", " } else { "" })?;
            write!(f, "`{}` ", name.escape_debug())?;
            match how {
                How::Missing => f.write_str("is missing"),
                How::Different => f.write_str("is not as it was made"),
                How::Foreign => f.write_str("does not belong in a log"),
                How::Count => f.write_str("does not say how many entries were written"),
                How::Format => f.write_str("states an older format than the entries have"),
                How::Longer(more) => {
                    write!(f, "has {} after its end, as if another file were joined to it", bytes(*more))
                }
                How::Shorter(less) => write!(f, "lacks {} at its end", bytes(*less)),
            }?;
        }
        Ok(())
    }
}

fn bytes(number: u64) -> String {
    counted(number, "byte", "bytes")
}

/// Compares the file's objects with ours, text for text.
pub fn alteration(conn: &Connection) -> rusqlite::Result<Option<Alteration>> {
    let mut found = BTreeMap::new();
    let mut query = conn.prepare_cached("SELECT name, sql FROM sqlite_schema ORDER BY name")?;
    let mut rows = query.query([])?;
    while let Some(row) = rows.next()? {
        found.insert(row.get::<_, String>(0)?, row.get::<_, Option<String>>(1)?);
    }
    let mut changes = Vec::new();
    for (name, sql) in OBJECTS.into_iter().chain([SEQUENCE]) {
        let how = match found.remove(name) {
            None => How::Missing,
            Some(text) if text.as_deref() != Some(sql) => How::Different,
            Some(_) => continue,
        };
        changes.push(Change { name: name.to_owned(), how });
    }
    changes.extend(found.into_keys().map(|name| Change { name, how: How::Foreign }));
    Ok((!changes.is_empty()).then_some(Alteration { changes }))
}
