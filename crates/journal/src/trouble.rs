//! What went wrong inside a transaction, before the file is named.

use crate::error::{Fault, JournalError};
use record::EntryError;
use std::path::Path;

pub enum Trouble {
    /// Reported by SQLite.
    Sqlite(rusqlite::Error),
    /// Found by this crate.
    Fault(Fault),
    /// An entry would not read back.
    Unstorable(EntryError),
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
            Self::Unstorable(why) => JournalError::because(path, Fault::Unstorable, why),
        }
    }
}
