//! What can go wrong, in words that say what, where and what to do.

use rusqlite::ffi;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// Why a log could not be made, opened, read or written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JournalError {
    /// The log's file.
    pub path: PathBuf,
    /// What is the matter with it.
    pub fault: Fault,
}

/// What is the matter.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Fault {
    /// There is no such file.
    Missing,
    /// There is one already.
    Exists,
    /// The part of an older log that was not yet merged lies where the new one should go.
    Leftover,
    /// It is something else; why, in words.
    NotALog(String),
    /// A newer program wrote it; the format found.
    Newer(i32),
    /// It is cut short or its bytes are damaged; what SQLite says.
    Damaged(String),
    /// Its tables or guards are not as they were made; which.
    Altered(String),
    /// The chain of entries is broken.
    Broken(Break),
    /// It cannot be written.
    ReadOnly,
    /// The folder is read-only and the log has a part that is not yet merged.
    Unmerged,
    /// Permission is missing.
    Denied,
    /// The disk is full.
    Full,
    /// Another program held it for longer than we wait.
    Busy,
    /// It was deleted or replaced while it was open.
    Replaced,
    /// An entry is larger than [`crate::MAX_BODY_BYTES`]; its bytes.
    TooLarge(usize),
    /// An entry holds something that could not be read back; what.
    Unstorable(String),
    /// The file system cannot do what a shared log needs.
    Unsuitable,
    /// Anything else the system says.
    Other(String),
}

/// The first entry that does not fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Break {
    /// The number that is wrong or missing.
    pub seq: u64,
    /// What is wrong with it.
    pub why: Why,
}

/// Why an entry does not fit.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Why {
    /// No entry has this number.
    Missing,
    /// The hash does not follow from the entry and the one before.
    Changed,
    /// The hash fits but the content is nothing this program can read; why.
    Unreadable(String),
    /// The first entry is not the start of a log.
    NotAStart,
    /// A sign-off names a state the log never had.
    SignedElsewhere,
}

impl fmt::Display for Break {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seq = self.seq;
        match &self.why {
            Why::Missing => write!(f, "entry {seq} is missing"),
            Why::Changed => write!(
                f,
                "entry {seq} is not as it was written, or does not follow entry {}",
                seq.saturating_sub(1)
            ),
            Why::Unreadable(why) => write!(f, "entry {seq} cannot be read: {why}"),
            Why::NotAStart => write!(f, "entry {seq} should be the start of the log and is not"),
            Why::SignedElsewhere => write!(f, "entry {seq} signs a state this log never had"),
        }
    }
}

impl fmt::Display for JournalError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let path = self.path.display();
        match &self.fault {
            Fault::Missing => {
                write!(f, "there is no log at {path}; check the name, or start one with `jigtrue new`")
            }
            Fault::Exists => write!(f, "{path} exists already and is left as it is; choose another name"),
            Fault::Leftover => write!(
                f,
                "{path}-wal is left from an older log and may hold readings of it; put that log back beside it, or move it away, then try again"
            ),
            Fault::NotALog(why) => write!(f, "{path} is not a jigtrue log: {why}; check the name"),
            Fault::Newer(format) => write!(
                f,
                "{path} is of format {format}, newer than this program knows ({}); open it with a newer jigtrue",
                crate::FORMAT
            ),
            Fault::Damaged(detail) => write!(
                f,
                "{path} is cut short or damaged ({detail}); keep the file as it is and go on from a backup of it"
            ),
            Fault::Altered(what) => write!(
                f,
                "{path} was altered by another program: {what}; nothing more is written to it; keep it and go on from a backup of it"
            ),
            Fault::Broken(at) => write!(
                f,
                "the chain of {path} is broken: {at}; entries before it are sound, nothing from it on can be relied on"
            ),
            Fault::ReadOnly => write!(
                f,
                "{path} cannot be written; make the file and its folder writable, or copy it elsewhere"
            ),
            Fault::Unmerged => write!(
                f,
                "{path} has its newest entries in {path}-wal, and its folder cannot be written; copy both files into a folder that can, and open it there"
            ),
            Fault::Denied => write!(f, "no permission for {path}; ask whoever owns the file or its folder"),
            Fault::Full => write!(
                f,
                "the disk of {path} is full; nothing was written, nothing is lost; make room and repeat this step"
            ),
            Fault::Busy => write!(
                f,
                "another program holds {path}; nothing was written; close it or wait, and repeat this step"
            ),
            Fault::Replaced => write!(
                f,
                "{path} was deleted, moved or replaced while it was open; the last step is not in it; close this program, put the file back, and repeat the step"
            ),
            Fault::TooLarge(bytes) => write!(
                f,
                "an entry for {path} would take {bytes} bytes; the most is {}; nothing was written",
                crate::MAX_BODY_BYTES
            ),
            Fault::Unstorable(what) => {
                write!(f, "an entry for {path} could not be read back later ({what}); nothing was written")
            }
            Fault::Unsuitable => write!(
                f,
                "the file system of {path} cannot hold a log that programs share; put it on a local disk"
            ),
            Fault::Other(detail) => write!(f, "{path}: {detail}"),
        }
    }
}

impl std::error::Error for JournalError {}

impl JournalError {
    pub(crate) fn new(path: &Path, fault: Fault) -> Self {
        Self { path: path.to_owned(), fault }
    }

    pub(crate) fn io(path: &Path, error: &io::Error) -> Self {
        let fault = match error.kind() {
            io::ErrorKind::NotFound => Fault::Missing,
            io::ErrorKind::AlreadyExists => Fault::Exists,
            io::ErrorKind::PermissionDenied => Fault::Denied,
            io::ErrorKind::ReadOnlyFilesystem => Fault::ReadOnly,
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Fault::Full,
            _ => Fault::Other(error.to_string()),
        };
        Self::new(path, fault)
    }

    pub(crate) fn sqlite(path: &Path, error: &rusqlite::Error) -> Self {
        let Some(code) = error.sqlite_error() else {
            return Self::new(path, Fault::Damaged(error.to_string()));
        };
        let fault = match (code.extended_code, code.extended_code & 0xff) {
            (ffi::SQLITE_READONLY_DBMOVED, _) => Fault::Replaced,
            (ffi::SQLITE_IOERR_SHMSIZE, _) | (_, ffi::SQLITE_FULL) => Fault::Full,
            (ffi::SQLITE_IOERR_SHORT_READ | ffi::SQLITE_IOERR_CORRUPTFS, _) | (_, ffi::SQLITE_CORRUPT) => {
                Fault::Damaged(error.to_string())
            }
            (_, ffi::SQLITE_TOOBIG) => {
                Fault::Damaged("an entry is larger than any that is ever written".to_owned())
            }
            (_, ffi::SQLITE_NOTADB) => Fault::NotALog("its content is something else".to_owned()),
            (_, ffi::SQLITE_READONLY) => Fault::ReadOnly,
            (_, ffi::SQLITE_BUSY | ffi::SQLITE_LOCKED) => Fault::Busy,
            (_, ffi::SQLITE_CANTOPEN | ffi::SQLITE_PERM | ffi::SQLITE_AUTH) => Fault::Denied,
            _ => Fault::Other(error.to_string()),
        };
        Self::new(path, fault)
    }
}
