//! Writing entries.

use crate::body::{Refused, Stored, Tail};
use crate::error::{Break, Fault, JournalError, Why};
use crate::hash::{Hash, Head};
use crate::schema::{self, Alteration};
use crate::{place, rounds};
use record::{What, When};
use rusqlite::types::ValueRef;
use rusqlite::{Connection, Statement};
use std::path::Path;

/// The end of the log, which must be where the file's own count says it is.
pub fn head(conn: &Connection) -> Result<Head, Trouble> {
    let mut last = conn.prepare_cached("SELECT seq, hash FROM entry ORDER BY seq DESC LIMIT 1")?;
    let mut rows = last.query([])?;
    let head = match rows.next()? {
        None => Head::genesis(),
        Some(row) => Head { seq: row.get::<_, i64>(0)?.cast_unsigned(), hash: Hash(row.get(1)?) },
    };
    match given(conn)? {
        Some(given) if given == head.seq => Ok(head),
        Some(given) if given > head.seq => {
            Err(Trouble::Fault(Fault::Broken(Break { seq: head.seq + 1, why: Why::Missing })))
        }
        _ => Err(Trouble::Fault(Fault::Altered(Alteration::of_count()))),
    }
}

/// The highest number ever given, which SQLite keeps apart from the table; `None` where it is not as SQLite keeps it.
fn given(conn: &Connection) -> rusqlite::Result<Option<u64>> {
    let mut query = conn.prepare_cached("SELECT name, seq FROM sqlite_sequence LIMIT 2")?;
    let mut rows = query.query([])?;
    let given = match rows.next()? {
        Some(row) => match (row.get_ref(0)?, row.get_ref(1)?) {
            (ValueRef::Text(b"entry"), ValueRef::Integer(given)) => u64::try_from(given).ok(),
            _ => None,
        },
        None => None,
    };
    Ok(if rows.next()?.is_some() { None } else { given })
}

/// The statement that writes this many [`Row`]s.
pub fn insertion(rows: usize) -> String {
    let into = r#"INSERT INTO entry(seq, at, "by", kind, body, hash) VALUES "#;
    into.to_owned() + &vec!["(?, ?, ?, ?, ?, ?)"; rows].join(", ")
}

/// Inserts one entry after `before`.
pub fn insert(conn: &Connection, before: &Head, when: When, by: &str, what: &What) -> Result<Head, Trouble> {
    let mut end = End { head: *before, highest_round: rounds::highest(conn)? };
    let row = end.follow(when, by, what).map_err(Trouble::Refused)?;
    if let Some(at) = place::fault(conn, row.head.seq, what)? {
        return Err(Trouble::Fault(Fault::OutOfPlace(at)));
    }
    schema::raise_format(conn, what.format())?;
    Row::insert(&mut *conn.prepare_cached(&insertion(1))?, [&row])?;
    Ok(row.head)
}

/// An entry ready to be written.
pub struct Row {
    /// Its number and hash.
    pub head: Head,
    at_millis: i64,
    by: String,
    stored: Stored,
}

/// The end of the log, with what its last entry says of the readings before it.
#[derive(Clone, Copy, Debug)]
pub struct End {
    /// The last entry.
    pub head: Head,
    /// The highest round of any reading; 0 without readings.
    pub highest_round: u32,
}

impl End {
    /// The entry that comes next, after which this is the end.
    pub fn follow(&mut self, when: When, by: &str, what: &What) -> Result<Row, Refused> {
        if let What::Reading(reading) = what {
            self.highest_round = self.highest_round.max(reading.round);
        }
        let highest_round = Some(self.highest_round).filter(|round| *round > 0);
        let stored = Stored::new(what, Tail { highest_round, offset: when.offset })?;
        let at_millis = when.at.millis();
        let (kind, body) = (stored.kind().as_bytes(), stored.body().as_bytes());
        let hash = self.head.link(at_millis, by.as_bytes(), kind, body);
        self.head = Head { seq: self.head.seq + 1, hash };
        Ok(Row { head: self.head, at_millis, by: by.to_owned(), stored })
    }
}

impl Row {
    /// Writes rows by their [`insertion`], inside the caller's transaction.
    pub fn insert<'r>(
        statement: &mut Statement<'_>,
        rows: impl IntoIterator<Item = &'r Self>,
    ) -> rusqlite::Result<()> {
        let mut place = 0;
        let mut next = || {
            place += 1;
            place
        };
        for Self { head, at_millis, by, stored } in rows {
            statement.raw_bind_parameter(next(), head.seq.cast_signed())?;
            statement.raw_bind_parameter(next(), at_millis)?;
            statement.raw_bind_parameter(next(), by)?;
            statement.raw_bind_parameter(next(), stored.kind())?;
            statement.raw_bind_parameter(next(), stored.body())?;
            statement.raw_bind_parameter(next(), head.hash.0)?;
        }
        statement.raw_execute().map(|_| ())
    }
}

/// What went wrong inside a transaction, before it is known of which file.
pub enum Trouble {
    /// SQLite says.
    Sqlite(rusqlite::Error),
    /// We say.
    Fault(Fault),
    /// An entry cannot be stored.
    Refused(Refused),
}

impl From<rusqlite::Error> for Trouble {
    fn from(error: rusqlite::Error) -> Self {
        Self::Sqlite(error)
    }
}

impl Trouble {
    /// As an error of the log at `path`.
    pub fn at(self, path: &Path) -> JournalError {
        match self {
            Self::Sqlite(error) => JournalError::sqlite(path, error),
            Self::Fault(fault) => JournalError::new(path, fault),
            Self::Refused(why) => why.at(path),
        }
    }
}
