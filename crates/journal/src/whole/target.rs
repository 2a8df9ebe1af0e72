//! What may be replaced, and what may not.

use super::{Place, WholeError};
use crate::file::Identity;
use crate::schema::APPLICATION_ID;
use std::ffi::OsStr;
use std::fs::{self, File, Metadata};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// What is already at a file's path.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Existing {
    #[error("is a log")]
    Log,
    /// Of another program.
    #[error("is a database")]
    Database,
    /// The part beside a log.
    #[error("belongs to a log and may hold its newest entries")]
    BesideALog,
    #[error("is a secret key")]
    Key,
    #[error("is what this command reads")]
    Input,
    #[error("is a folder")]
    Folder,
    #[error("is a device")]
    Device,
    /// A pipe with a name (FIFO).
    #[error("is a pipe")]
    Pipe,
    #[error("is a socket")]
    Socket,
    #[error("is a link whose target does not exist")]
    DeadLink,
}

/// Why a file is not written at the requested path.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// Something has the name already, and nothing may be replaced.
    #[error("exists already and is left unchanged; choose another name")]
    Exists,
    /// The name, or the target of a link with that name, is this.
    #[error("{0} and is left unchanged; choose another name")]
    Is(Existing),
    /// The name is not that of a file (`..`, or empty).
    #[error("is not a file name; choose another")]
    NoName,
}

/// The path with links resolved, if the file may be put there.
pub fn real(path: &Path, place: Place<'_>) -> Result<PathBuf, WholeError> {
    let refused = |what: Refusal| Err(what.into());
    if path.file_name().is_none() {
        return refused(if path.is_dir() { Refusal::Is(Existing::Folder) } else { Refusal::NoName });
    }
    let absolute = std::path::absolute(path)?;
    let inputs = match place {
        Place::Over(inputs) => inputs,
        Place::Free => &[],
    };
    if belongs_to_a_log(&absolute, inputs) {
        return refused(Refusal::Is(Existing::BesideALog));
    }
    let linked = match fs::symlink_metadata(&absolute) {
        Err(why) if why.kind() == io::ErrorKind::NotFound => return Ok(absolute),
        Err(why) => return Err(why.into()),
        Ok(found) => found.is_symlink(),
    };
    if matches!(place, Place::Free) {
        return refused(Refusal::Exists);
    }
    let real = match fs::canonicalize(&absolute) {
        Err(why) if linked && why.kind() == io::ErrorKind::NotFound => {
            return refused(Refusal::Is(Existing::DeadLink));
        }
        found => found?,
    };
    if belongs_to_a_log(&real, inputs) {
        return refused(Refusal::Is(Existing::BesideALog));
    }
    let found = fs::metadata(&real)?;
    if let Some(kind) = not_plain(&found) {
        return refused(Refusal::Is(kind));
    }
    if is_any_of(&real, inputs) {
        return refused(Refusal::Is(Existing::Input));
    }
    content(&real)?.map_or(Ok(real), |what| refused(Refusal::Is(what)))
}

/// Whether it is one of these files, also under another name (a hard link).
fn is_any_of(real: &Path, inputs: &[&Path]) -> bool {
    let same_name = |input: &Path| fs::canonicalize(input).is_ok_and(|input| input == *real);
    let same_file =
        |input: &Path| cfg!(unix) && Identity::at(input).is_some_and(|i| Identity::at(real) == Some(i));
    inputs.iter().any(|input| same_name(input) || same_file(input))
}

#[cfg(unix)]
fn not_plain(found: &Metadata) -> Option<Existing> {
    use std::os::unix::fs::FileTypeExt;
    let kind = found.file_type();
    if kind.is_file() {
        None
    } else if kind.is_dir() {
        Some(Existing::Folder)
    } else if kind.is_fifo() {
        Some(Existing::Pipe)
    } else if kind.is_socket() {
        Some(Existing::Socket)
    } else {
        Some(Existing::Device)
    }
}

#[cfg(not(unix))]
fn not_plain(found: &Metadata) -> Option<Existing> {
    match (found.is_file(), found.is_dir()) {
        (true, _) => None,
        (_, true) => Some(Existing::Folder),
        _ => Some(Existing::Device),
    }
}

/// Whether it is a name that SQLite uses beside an existing database.
fn belongs_to_a_log(path: &Path, inputs: &[&Path]) -> bool {
    let Some(name) = path.file_name().and_then(OsStr::to_str) else { return false };
    ["-wal", "-shm", "-journal"].iter().any(|end| {
        name.strip_suffix(end).is_some_and(|base| {
            let log = path.with_file_name(base);
            let is_database = || matches!(content(&log), Ok(Some(Existing::Log | Existing::Database)));
            log.is_file() && (is_any_of(&log, inputs) || is_database())
        })
    })
}

/// The content of a plain file, if it is something that must not be replaced.
///
/// Never call it for a log that this process has open (those are among the inputs): closing a second descriptor of it
/// would drop SQLite's locks.
fn content(real: &Path) -> io::Result<Option<Existing>> {
    let mut begins = Vec::with_capacity(100);
    File::open(real)?.take(100).read_to_end(&mut begins)?;
    if begins.starts_with(b"SQLite format 3\0") {
        let ours = begins.get(68..72) == Some(&APPLICATION_ID.to_be_bytes());
        return Ok(Some(if ours { Existing::Log } else { Existing::Database }));
    }
    // The write-ahead log of a database that was moved away (SQLite's file format, section 4.1).
    if begins.starts_with(&[0x37, 0x7f, 0x06, 0x82]) || begins.starts_with(&[0x37, 0x7f, 0x06, 0x83]) {
        return Ok(Some(Existing::BesideALog));
    }
    let text = begins.trim_ascii();
    let key = text.len() == 64 && text.iter().all(u8::is_ascii_hexdigit);
    Ok(key.then_some(Existing::Key))
}
