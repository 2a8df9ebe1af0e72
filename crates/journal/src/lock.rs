//! The log held for writing while it is read, judged and written.

use crate::append::{self, Trouble};
use crate::error::{Fault, JournalError};
use crate::hash::Head;
use crate::open::Journal;
use record::{What, When};
use rusqlite::{Transaction, TransactionBehavior};

impl Journal {
    /// Appends one entry; returns its number and hash only after it is on disk.
    ///
    /// # Errors
    /// If the log cannot be written. The entry is not in it then.
    pub fn append(&mut self, when: impl Into<When>, by: &str, what: &What) -> Result<Head, JournalError> {
        self.lock()?.append(when, by, what)
    }

    /// Takes the log for writing before anything is read: until the lock is used or dropped nobody else writes, and what is read
    /// through it is the log's true end.
    ///
    /// # Errors
    /// If the log cannot be written, or another program holds it for longer than we wait.
    pub fn lock(&mut self) -> Result<Locked<'_>, JournalError> {
        self.may_write()?;
        Locked::of(self)
    }

    /// Refuses where nothing may be written.
    pub(crate) fn may_write(&self) -> Result<(), JournalError> {
        if !self.is_writable() {
            return Err(self.error(Fault::ReadOnly));
        }
        if let Some(alteration) = &self.alteration {
            return Err(self.error(Fault::Altered(alteration.clone())));
        }
        self.still_there()
    }
}

/// A log that nobody else can write. Dropped without an entry it leaves everything as it was.
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
            // If the file went away meanwhile, that is the reason for whatever went wrong.
            Err(why) => Err(journal.still_there().err().unwrap_or_else(|| why.at(&journal.path))),
        }
    }

    /// The log, to be read: nothing comes to it meanwhile.
    #[must_use]
    pub const fn journal(&self) -> &Journal {
        self.journal
    }

    /// The end of the log.
    #[must_use]
    pub const fn head(&self) -> Head {
        self.head
    }

    /// Appends one entry and lets the log go; returns only after the entry is on disk.
    ///
    /// # Errors
    /// If the log cannot be written or the entry has no place in it; then nothing was written.
    pub fn append(self, when: impl Into<When>, by: &str, what: &What) -> Result<Head, JournalError> {
        let Self { journal, tx, head } = self;
        let written = append::insert(&tx, &head, when.into(), by, what)
            .and_then(|head| tx.commit().map(|()| head).map_err(Trouble::Sqlite))
            .map_err(|why| why.at(&journal.path));
        // If the file went away meanwhile, that is the reason for whatever went wrong, and a success is none.
        journal.still_there()?;
        written
    }
}
