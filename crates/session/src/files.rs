//! Reads text files safely, and writes files whole or not at all.

use crate::file_fault::FileFault;
use crate::{Cannot, FileSort, SessionError};
use journal::whole::{Place, Readers, Whole, WholeError};
use std::fs::File;
use std::io::{BufWriter, Read, Write};
use std::path::Path;

/// A plan of 5,000 stations has under half a megabyte; anything far larger is not a plan.
const MOST_BYTES: u64 = 16 << 20;

/// Reads a plan's text.
///
/// # Errors
/// If it cannot be read, is too large for a plan, or is not text.
pub fn read_plan_text(path: &Path) -> Result<String, SessionError> {
    read_text(path, FileSort::Plan)
}

pub(crate) fn read_text(path: &Path, what: FileSort) -> Result<String, SessionError> {
    let wrong = |why| SessionError::file(path, why);
    let open = || -> std::io::Result<(std::fs::Metadata, File)> {
        let file = File::open(path)?;
        Ok((file.metadata()?, file))
    };
    let (meta, file) = open().map_err(|e| SessionError::io(path, Cannot::Open(what), e))?;
    if meta.is_dir() {
        return Err(wrong(FileFault::Folder(what)));
    }
    if meta.len() > MOST_BYTES {
        return Err(wrong(FileFault::Large { mb: meta.len() >> 20, what }));
    }
    let mut bytes = Vec::new();
    file.take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|e| SessionError::io(path, Cannot::ReadAs(what), e))?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(wrong(FileFault::TooLarge(what)));
    }
    if bytes.is_empty() {
        return Err(wrong(FileFault::Empty(what)));
    }
    String::from_utf8(bytes).map_err(|e| {
        let good = e.utf8_error().valid_up_to();
        let line = 1 + e.as_bytes().iter().take(good).filter(|b| **b == b'\n').count();
        wrong(FileFault::NotText { line, why: e.utf8_error() })
    })
}

/// The largest table read, in bytes.
const MOST_TABLE_BYTES: u64 = 256 << 20;

/// Reads a table from a file, or from standard input if the name is `-`.
///
/// # Errors
/// If it cannot be read, is too large, or is not text.
pub fn read_table(path: &Path) -> Result<String, SessionError> {
    let over =
        || SessionError::file(path, FileFault::Over { mb: MOST_TABLE_BYTES >> 20, what: FileSort::Table });
    let read = |from: &mut dyn Read| {
        let mut bytes = Vec::new();
        from.take(MOST_TABLE_BYTES + 1)
            .read_to_end(&mut bytes)
            .map_err(|e| SessionError::io(path, Cannot::Read, e))?;
        if bytes.len() as u64 > MOST_TABLE_BYTES {
            return Err(over());
        }
        String::from_utf8(bytes).map_err(|why| SessionError::file(path, FileFault::TableNotText(why)))
    };
    if path == Path::new("-") {
        return read(&mut std::io::stdin().lock());
    }
    let mut file = File::open(path).map_err(|e| SessionError::io(path, Cannot::Open(FileSort::Table), e))?;
    if is_larger(&file, MOST_TABLE_BYTES) {
        return Err(over());
    }
    read(&mut file)
}

/// Whether the file reports a larger size; a file that reports none is measured while it is read.
fn is_larger(file: &File, most: u64) -> bool {
    file.metadata().is_ok_and(|meta| meta.len() > most)
}

/// The largest sheet read back, in bytes.
const MOST_SHEET_BYTES: u64 = 64 << 20;

/// Reads a sheet's bytes.
///
/// # Errors
/// If it cannot be read or is over 64 MB.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, SessionError> {
    let unread = |why: std::io::Error| SessionError::io(path, Cannot::Read, why);
    let file = File::open(path).map_err(unread)?;
    let mut bytes = Vec::new();
    if !is_larger(&file, MOST_SHEET_BYTES) {
        file.take(MOST_SHEET_BYTES + 1).read_to_end(&mut bytes).map_err(unread)?;
        if bytes.len() as u64 <= MOST_SHEET_BYTES {
            return Ok(bytes);
        }
    }
    Err(SessionError::file(path, FileFault::Over { mb: MOST_SHEET_BYTES >> 20, what: FileSort::Sheet }))
}

/// Writes a file whole or not at all. It is durable when this returns. `inputs` are the files that the command reads:
/// they are never replaced, nor is a log, key, folder, device, pipe or socket, nor one of these behind a link.
///
/// # Errors
/// If it cannot be written there; what was at the path is still there.
pub fn write_whole(path: &Path, inputs: &[&Path], bytes: &[u8]) -> Result<(), SessionError> {
    write_whole_by(path, inputs, |file| {
        file.write_all(bytes)
            .map_err(|why| SessionError::Unwritten { path: path.to_owned(), source: WholeError::System(why) })
    })
}

/// The same, creating its folder if necessary.
///
/// # Errors
/// As [`write_whole`], and if the folder cannot be made.
pub fn write_with_folder(path: &Path, bytes: &[u8]) -> Result<(), SessionError> {
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).map_err(|e| SessionError::io(folder, Cannot::MakeFolder, e))?;
    }
    write_whole(path, &[], bytes)
}

/// The same as [`write_whole`] for content that is produced while it is written.
///
/// # Errors
/// As [`write_whole`], and the first error of `write`.
pub fn write_whole_by<T>(
    path: &Path,
    inputs: &[&Path],
    write: impl FnOnce(&mut dyn Write) -> Result<T, SessionError>,
) -> Result<T, SessionError> {
    let unwritten = |source| SessionError::Unwritten { path: path.to_owned(), source };
    let mut whole = Whole::begin(path, Place::Over(inputs), Readers::Usual).map_err(unwritten)?;
    let mut file = BufWriter::new(whole.file());
    let done = write(&mut file)?;
    file.flush().map_err(|why| unwritten(why.into()))?;
    drop(file);
    whole.keep().map_err(unwritten)?;
    Ok(done)
}

/// Writes a file whole if none exists yet.
///
/// # Errors
/// If something is there, or it cannot be written.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), SessionError> {
    let unwritten = |source| SessionError::Unwritten { path: path.to_owned(), source };
    let mut whole = Whole::begin(path, Place::Free, Readers::Usual).map_err(unwritten)?;
    whole.file().write_all(bytes).map_err(|why| unwritten(why.into()))?;
    whole.keep().map_err(unwritten)
}

/// Checks whether a file may be written there, before much is done to make it.
///
/// # Errors
/// As [`write_whole`] would.
pub fn may_write(path: &Path, inputs: &[&Path]) -> Result<(), SessionError> {
    Whole::begin(path, Place::Over(inputs), Readers::Usual)
        .map(drop)
        .map_err(|source| SessionError::Unwritten { path: path.to_owned(), source })
}
