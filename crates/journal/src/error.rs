//! What can go wrong, with messages that say what, where and what to do.

mod fault;
mod words;

pub use fault::{Break, Damage, Fault, NotALog, Target, Unreadable, Why};
pub use words::plain;

use rusqlite::ffi;
use std::error::Error;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Why a log could not be made, opened, read or written.
#[derive(Clone, Debug)]
pub struct JournalError {
    /// The log's file.
    pub path: PathBuf,
    /// What is wrong with it.
    pub fault: Fault,
    /// What the system or SQLite reported, if either did.
    pub cause: Option<Arc<dyn Error + Send + Sync>>,
}

impl Error for JournalError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        match (&self.cause, &self.fault) {
            (Some(cause), _) => Some(&**cause),
            (None, Fault::Broken(Break { why: Why::Unreadable(why), .. })) => Some(why),
            (None, Fault::Damaged(damage)) => Some(damage),
            (None, Fault::NotALog(what)) => Some(what),
            (None, _) => None,
        }
    }
}

impl JournalError {
    pub(crate) fn new(path: &Path, fault: Fault) -> Self {
        Self { path: path.to_owned(), fault, cause: None }
    }

    pub(crate) fn because(path: &Path, fault: Fault, cause: impl Error + Send + Sync + 'static) -> Self {
        Self { cause: Some(Arc::new(cause)), ..Self::new(path, fault) }
    }

    pub(crate) fn io(path: &Path, error: io::Error) -> Self {
        let fault = match error.kind() {
            io::ErrorKind::NotFound => Fault::Missing,
            io::ErrorKind::AlreadyExists => Fault::Exists,
            io::ErrorKind::PermissionDenied => Fault::Denied,
            io::ErrorKind::ReadOnlyFilesystem => Fault::ReadOnly,
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Fault::Full,
            _ => Fault::System,
        };
        Self::because(path, fault, error)
    }

    pub(crate) fn sqlite(path: &Path, error: rusqlite::Error) -> Self {
        let Some(code) = error.sqlite_error() else {
            return Self::because(path, Fault::Damaged(Damage::Bytes), error);
        };
        let fault = match (code.extended_code, code.extended_code & 0xff) {
            (ffi::SQLITE_READONLY_DBMOVED, _) => Fault::Replaced,
            (ffi::SQLITE_IOERR_SHMSIZE, _) | (_, ffi::SQLITE_FULL) => Fault::Full,
            (ffi::SQLITE_IOERR_SHORT_READ | ffi::SQLITE_IOERR_CORRUPTFS, _) | (_, ffi::SQLITE_CORRUPT) => {
                Fault::Damaged(Damage::Bytes)
            }
            (_, ffi::SQLITE_TOOBIG) => Fault::Damaged(Damage::TooLarge),
            (_, ffi::SQLITE_NOTADB) => Fault::NotALog(NotALog::OtherContent),
            (_, ffi::SQLITE_READONLY) => Fault::ReadOnly,
            (_, ffi::SQLITE_BUSY | ffi::SQLITE_LOCKED) => Fault::Busy,
            (_, ffi::SQLITE_CANTOPEN | ffi::SQLITE_PERM | ffi::SQLITE_AUTH) => Fault::Denied,
            _ => Fault::System,
        };
        Self::because(path, fault, error)
    }
}
