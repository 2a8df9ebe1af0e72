//! The log locked for writing while it is read, judged and written.

use crate::append;
use crate::error::{Fault, JournalError};
use crate::hash::Head;
use crate::length;
use crate::open::Journal;
use crate::trouble::Trouble;
use record::{What, When};
use rusqlite::{Transaction, TransactionBehavior};

impl Journal {
    /// Appends one entry; returns its number and hash only after it is on disk.
    ///
    /// # Errors
    /// If the log cannot be written. The entry is then not in it.
    pub fn append(&mut self, when: impl Into<When>, by: &str, what: &What) -> Result<Head, JournalError> {
        self.lock()?.append(when, by, what)
    }

    /// Locks the log for writing before anything is read: until the lock is used or dropped nobody else writes, and
    /// what is read through it is the true end of the log.
    ///
    /// # Errors
    /// If the log cannot be written, or another program holds it longer than the waiting time.
    pub fn lock(&mut self) -> Result<Locked<'_>, JournalError> {
        self.may_write()?;
        Locked::of(self)
    }

    /// Refuses if the log is read-only.
    pub(crate) fn may_write(&self) -> Result<(), JournalError> {
        if !self.is_writable() {
            return Err(self.error(Fault::ReadOnly));
        }
        self.still_there()?;
        // The next merge would cut off what was joined to the file.
        let tx = self.conn.unchecked_transaction().map_err(|e| self.sqlite(e))?;
        let length = length::alteration(&tx, &self.real)?;
        match self.alteration.clone().or(length) {
            Some(alteration) => Err(self.error(Fault::Altered(alteration))),
            None => Ok(()),
        }
    }
}

/// A log that nobody else can write. Dropped without an entry, it leaves everything unchanged.
#[derive(Debug)]
pub struct Locked<'j> {
    journal: &'j Journal,
    tx: Transaction<'j>,
    head: Head,
}

impl<'j> Locked<'j> {
    /// The write lock is taken first, then the end of the log is read.
    pub(crate) fn of(journal: &'j Journal) -> Result<Self, JournalError> {
        let begun = Transaction::new_unchecked(&journal.conn, TransactionBehavior::Immediate)
            .map_err(Trouble::Sqlite)
            .and_then(|tx| append::head(&tx).map(|head| (tx, head)));
        match begun {
            Ok((tx, head)) => Ok(Self { journal, tx, head }),
            // If the file went away meanwhile, that is the cause of whatever went wrong.
            Err(why) => Err(journal.still_there().err().unwrap_or_else(|| why.at(&journal.path))),
        }
    }

    /// The log, for reading: it cannot grow meanwhile.
    pub const fn journal(&self) -> &Journal {
        self.journal
    }

    /// The end of the log.
    pub const fn head(&self) -> Head {
        self.head
    }

    /// Appends one entry and releases the log; returns only after the entry is on disk.
    ///
    /// # Errors
    /// If the log cannot be written or the entry has no place in it; then nothing is written.
    pub fn append(self, when: impl Into<When>, by: &str, what: &What) -> Result<Head, JournalError> {
        let Self { journal, tx, head } = self;
        let written = append::insert(&tx, &head, when.into(), by, what)
            .and_then(|head| tx.commit().map(|()| head).map_err(Trouble::Sqlite))
            .map_err(|why| why.at(&journal.path));
        // If the file went away meanwhile, that is the cause of whatever went wrong, and a success does not count.
        journal.still_there()?;
        written
    }
}
