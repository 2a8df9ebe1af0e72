//! The file of the log: which file it is, and its folder.
//!
//! Nothing here opens the database file itself: closing a second descriptor of a file drops every lock the process
//! has on it (POSIX), including SQLite's.

use crate::error::{Fault, JournalError, NotALog};
use std::ffi::OsString;
use std::fs::{self, File, Metadata};
use std::io;
use std::path::{Path, PathBuf};

/// Distinguishes files, whatever they are called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Identity {
    device: u64,
    number: u64,
}

impl Identity {
    /// The file that is now at `path`; `None` if there is none.
    pub fn at(path: &Path) -> Option<Self> {
        fs::metadata(path).ok().map(|found| Self::of(&found))
    }

    #[cfg(unix)]
    fn of(found: &Metadata) -> Self {
        use std::os::unix::fs::MetadataExt;
        Self { device: found.dev(), number: found.ino() }
    }

    /// On this system an open file cannot be deleted or replaced, so it is enough that one exists.
    #[cfg(not(unix))]
    fn of(_: &Metadata) -> Self {
        Self { device: 0, number: 0 }
    }
}

/// A file that was found.
#[derive(Debug)]
pub struct Located {
    /// Its path with links resolved.
    pub real: PathBuf,
    pub identity: Identity,
    /// Whether the file has another name too (a hard link).
    pub linked: bool,
}

/// Finds a file; refuses anything but a plain file.
pub fn locate(path: &Path) -> Result<Located, JournalError> {
    let found = fs::metadata(path).map_err(|e| match e.kind() {
        io::ErrorKind::NotFound => {
            missing(path).map_or_else(|| JournalError::io(path, e), |fault| JournalError::new(path, fault))
        }
        _ => JournalError::io(path, e),
    })?;
    let what = if found.is_dir() {
        Some(NotALog::Folder)
    } else if !found.is_file() {
        Some(NotALog::NotPlain)
    } else if found.len() == 0 {
        Some(NotALog::Empty)
    } else {
        None
    };
    if let Some(what) = what {
        return Err(JournalError::new(path, Fault::NotALog(what)));
    }
    let real = fs::canonicalize(path).map_err(|e| JournalError::io(path, e))?;
    // SQLite would only report that it cannot open something.
    if let Some(part) =
        ["-wal", "-shm", "-journal"].iter().map(|end| beside(&real, end)).find(|part| !may_be_used(part))
    {
        return Err(JournalError::new(path, Fault::PartBeside(part)));
    }
    Ok(Located { real, identity: Identity::of(&found), linked: is_linked(&found) })
}

#[cfg(unix)]
fn is_linked(found: &Metadata) -> bool {
    std::os::unix::fs::MetadataExt::nlink(found) > 1
}

#[cfg(not(unix))]
fn is_linked(_: &Metadata) -> bool {
    false
}

/// Why a file that is not at `path` may still be somewhere.
fn missing(path: &Path) -> Option<Fault> {
    if is_there(path, "-wal") {
        return Some(Fault::PartAlone(beside(path, "-wal")));
    }
    let link = path.ancestors().find(|part| part.is_symlink() && fs::metadata(part).is_err());
    link.map(|link| Fault::DeadLink(link.to_owned()))
}

/// Whether the name is free, or a plain file has it.
fn may_be_used(part: &Path) -> bool {
    fs::symlink_metadata(part).map_or(true, |found| found.is_file())
}

/// The path with `suffix` after its whole name, as SQLite names the files beside a database.
pub fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(suffix);
    PathBuf::from(name)
}

/// Whether there is something in a part beside the database.
pub fn is_there(real: &Path, part: &str) -> bool {
    fs::metadata(beside(real, part)).is_ok_and(|found| found.len() > 0)
}

/// Makes the names in the folder of `path` survive a loss of power.
pub fn sync_names(path: &Path) -> io::Result<()> {
    if cfg!(unix) {
        let folder = path.parent().unwrap_or(Path::new("/"));
        File::open(folder).and_then(|f| f.sync_all())?;
    }
    Ok(())
}
