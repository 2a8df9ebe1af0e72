//! Writing entries.

use crate::body::Stored;
use crate::error::{Break, Fault, JournalError, Why};
use crate::hash::{Hash, Head};
use crate::open::Journal;
use record::{At, What};
use rusqlite::{Connection, Statement, TransactionBehavior, params};
use std::path::Path;

impl Journal {
    /// Appends one entry; returns its number and hash only after it is on disk.
    ///
    /// # Errors
    /// If the log cannot be written; then nothing of it was.
    pub fn append(&mut self, at: At, by: &str, what: &What) -> Result<Head, JournalError> {
        self.write(|conn, head| insert(conn, &head, at, by, what))
    }

    /// Appends one entry made from the state of the log it will follow, such as a sign-off, with no other entry between.
    ///
    /// # Errors
    /// As [`Journal::append`].
    pub fn append_after(
        &mut self,
        at: At,
        by: &str,
        what: impl FnOnce(&Head) -> What,
    ) -> Result<Head, JournalError> {
        self.write(|conn, head| insert(conn, &head, at, by, &what(&head)))
    }

    /// One transaction: whoever holds the log for writing sees its true end, and nobody else writes meanwhile.
    fn write(
        &mut self,
        body: impl FnOnce(&Connection, Head) -> Result<Head, Trouble>,
    ) -> Result<Head, JournalError> {
        self.may_write()?;
        let path = self.path.clone();
        let written = self
            .conn
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(Trouble::Sqlite)
            .and_then(|tx| {
                let head = head(&tx)?;
                let head = body(&tx, head)?;
                tx.commit()?;
                Ok(head)
            })
            .map_err(|e| e.at(&path));
        // If the file went away meanwhile, that is the reason for whatever went wrong, and a success is none.
        self.still_there()?;
        written
    }

    /// Refuses where nothing may be written.
    pub(crate) fn may_write(&self) -> Result<(), JournalError> {
        if !self.is_writable() {
            return Err(self.error(Fault::ReadOnly));
        }
        if let Some(alteration) = &self.alteration {
            return Err(self.error(Fault::Altered(alteration.what.clone())));
        }
        self.still_there()
    }
}

/// The end of the log, which must be where the file's own count says it is.
pub fn head(conn: &Connection) -> Result<Head, Trouble> {
    let mut last = conn.prepare_cached("SELECT seq, hash FROM entry ORDER BY seq DESC LIMIT 1")?;
    let mut rows = last.query([])?;
    let head = match rows.next()? {
        None => Head::genesis(),
        Some(row) => Head { seq: row.get::<_, i64>(0)?.cast_unsigned(), hash: Hash(row.get(1)?) },
    };
    let mut given = conn.prepare_cached("SELECT seq FROM sqlite_sequence WHERE name = 'entry'")?;
    let given: i64 = given.query_row([], |row| row.get(0))?;
    if given.cast_unsigned() != head.seq {
        return Err(Trouble::Fault(Fault::Broken(Break { seq: head.seq + 1, why: Why::Missing })));
    }
    Ok(head)
}

/// How a [`Row`] is written.
pub const INSERT: &str =
    r#"INSERT INTO entry(seq, at, "by", kind, body, hash) VALUES (?1, ?2, ?3, ?4, ?5, ?6)"#;

/// Inserts one entry after `before`.
pub fn insert(conn: &Connection, before: &Head, at: At, by: &str, what: &What) -> Result<Head, Trouble> {
    let row = Row::new(before, at, by, what).map_err(Trouble::Fault)?;
    row.insert(&mut *conn.prepare_cached(INSERT)?)?;
    Ok(row.head)
}

/// An entry ready to be written.
pub struct Row {
    /// Its number and hash.
    pub head: Head,
    at: At,
    by: String,
    stored: Stored,
}

impl Row {
    /// The entry that follows `before`.
    pub fn new(before: &Head, at: At, by: &str, what: &What) -> Result<Self, Fault> {
        let stored = Stored::new(what)?;
        let hash =
            before.link(at.millis(), by.as_bytes(), stored.kind().as_bytes(), stored.body().as_bytes());
        Ok(Self { head: Head { seq: before.seq + 1, hash }, at, by: by.to_owned(), stored })
    }

    /// Writes it by [`INSERT`], inside the caller's transaction.
    pub fn insert(&self, statement: &mut Statement<'_>) -> rusqlite::Result<()> {
        let Self { head, at, by, stored } = self;
        let values =
            params![head.seq.cast_signed(), at.millis(), by, stored.kind(), stored.body(), head.hash.0];
        statement.execute(values).map(|_| ())
    }
}

/// What went wrong inside a transaction, before it is known of which file.
pub enum Trouble {
    /// SQLite says.
    Sqlite(rusqlite::Error),
    /// We say.
    Fault(Fault),
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
            Self::Sqlite(error) => JournalError::sqlite(path, &error),
            Self::Fault(fault) => JournalError::new(path, fault),
        }
    }
}
