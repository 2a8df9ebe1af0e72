//! Writing entries.

use crate::body::{Stored, Tail};
use crate::error::{Break, Fault, Why};
use crate::hash::{Hash, Head};
use crate::schema::{self, Alteration};
use crate::trouble::Trouble;
use crate::{place, rounds};
use record::{What, When};
use rusqlite::types::ValueRef;
use rusqlite::{Connection, Statement};

/// An entry to append together with others.
#[derive(Clone, Debug, PartialEq)]
pub struct NewEntry<S> {
    pub when: When,
    /// Who writes it.
    pub by: S,
    pub what: What,
}

impl<S> NewEntry<S> {
    pub fn new(when: impl Into<When>, by: S, what: What) -> Self {
        Self { when: when.into(), by, what }
    }
}

/// The end of the log, which must match the file's own count.
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

/// The highest number ever given, which SQLite stores apart from the table; `None` if it is not as SQLite stores it.
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

/// The statement that writes an entry.
pub const INSERTION: &str =
    r#"INSERT INTO entry(seq, at, "by", kind, body, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6)"#;

/// Inserts one entry after `before`.
pub fn insert(conn: &Connection, before: &Head, when: When, by: &str, what: &What) -> Result<Head, Trouble> {
    let mut end = End { head: *before, highest_round: rounds::highest(conn)? };
    let mut entry = Unlinked::new(what)?;
    end.link(when, by, &mut entry);
    if let Some(at) = place::fault(conn, end.head.seq, what)? {
        return Err(Trouble::Fault(Fault::OutOfPlace(at)));
    }
    schema::raise_format(conn, entry.format)?;
    end.insert(&mut *conn.prepare_cached(INSERTION)?, when, by, &entry)?;
    Ok(end.head)
}

/// What happened, ready to be written once its place in the chain is known.
#[derive(Debug)]
pub struct Unlinked {
    /// Its text.
    pub stored: Stored,
    /// The round, if it is a reading.
    pub round: Option<u32>,
    /// The format that a program must know to understand it.
    pub format: i32,
}

impl Unlinked {
    /// The text of what happened.
    pub fn new(what: &What) -> Result<Self, Trouble> {
        Ok(Self { stored: Stored::new(what)?, round: rounds::round_of(what), format: what.format() })
    }
}

/// The end of the log, with what its last entry says about the readings before it.
#[derive(Clone, Copy, Debug)]
pub struct End {
    /// The last entry.
    pub head: Head,
    /// The highest round of any reading; 0 without readings.
    pub highest_round: u32,
}

impl End {
    /// Completes the text of the next entry and makes it the end.
    pub fn link(&mut self, when: When, by: &str, entry: &mut Unlinked) {
        self.highest_round = self.highest_round.max(entry.round.unwrap_or(0));
        let highest_round = Some(self.highest_round).filter(|round| *round > 0);
        entry.stored.end(Tail { highest_round, offset: when.offset });
        let (kind, body) = (entry.stored.kind().as_bytes(), entry.stored.body().as_bytes());
        let hash = self.head.link(when.at.millis(), by.as_bytes(), kind, body);
        self.head = Head { seq: self.head.seq + 1, hash };
    }

    /// Writes the most recently linked entry with an [`INSERTION`], inside the caller's transaction.
    pub fn insert(
        &self,
        insertion: &mut Statement<'_>,
        when: When,
        by: &str,
        entry: &Unlinked,
    ) -> rusqlite::Result<()> {
        let Head { seq, hash } = self.head;
        let (kind, body) = (entry.stored.kind(), entry.stored.body());
        insertion.execute((seq.cast_signed(), when.at.millis(), by, kind, body, hash.0)).map(|_| ())
    }
}
