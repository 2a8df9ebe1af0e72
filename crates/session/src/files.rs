//! Reads text files safely, and writes files whole or not at all.

use crate::file_fault::FileFault;
use crate::{Cannot, FileSort, SessionError};
use journal::whole::{Place, Readers, Whole};
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
    let read = at_most(MOST_BYTES, file).map_err(|e| SessionError::io(path, Cannot::ReadAs(what), e))?;
    let bytes = read.ok_or_else(|| wrong(FileFault::TooLarge(what)))?;
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
    let wrong = |why| SessionError::file(path, why);
    let read = if path == Path::new("-") {
        at_most(MOST_TABLE_BYTES, std::io::stdin().lock())
    } else {
        let open = |e| SessionError::io(path, Cannot::Open(FileSort::Table), e);
        file_at_most(MOST_TABLE_BYTES, File::open(path).map_err(open)?)
    };
    let over = || wrong(FileFault::Over { mb: MOST_TABLE_BYTES >> 20, what: FileSort::Table });
    let bytes = read.map_err(|e| SessionError::io(path, Cannot::Read, e))?.ok_or_else(over)?;
    String::from_utf8(bytes).map_err(|why| wrong(FileFault::TableNotText(why)))
}

/// The bytes, if there are no more than `most`.
fn at_most(most: u64, from: impl Read) -> std::io::Result<Option<Vec<u8>>> {
    let mut bytes = Vec::new();
    from.take(most + 1).read_to_end(&mut bytes)?;
    Ok((bytes.len() as u64 <= most).then_some(bytes))
}

/// The same; a file that reports a larger size is not read.
fn file_at_most(most: u64, file: File) -> std::io::Result<Option<Vec<u8>>> {
    let larger = file.metadata().is_ok_and(|meta| meta.len() > most);
    if larger { Ok(None) } else { at_most(most, file) }
}

/// The largest sheet read back, in bytes.
const MOST_SHEET_BYTES: u64 = 64 << 20;

/// Reads a sheet's bytes.
///
/// # Errors
/// If it cannot be read or is over 64 MB.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, SessionError> {
    let read = File::open(path).and_then(|file| file_at_most(MOST_SHEET_BYTES, file));
    let over = FileFault::Over { mb: MOST_SHEET_BYTES >> 20, what: FileSort::Sheet };
    read.map_err(|why| SessionError::io(path, Cannot::Read, why))?
        .ok_or_else(|| SessionError::file(path, over))
}

/// Writes a file whole or not at all. It is durable when this returns. `inputs` are the files that the command reads:
/// they are never replaced, nor is a log, key, folder, device, pipe or socket, nor one of these behind a link.
///
/// # Errors
/// If it cannot be written there; what was at the path is still there.
pub fn write_whole(path: &Path, inputs: &[&Path], bytes: &[u8]) -> Result<(), SessionError> {
    write_whole_by(path, inputs, |file| {
        file.write_all(bytes).map_err(|why| SessionError::unwritten(path, why))
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
    let mut whole = Whole::begin(path, Place::Over(inputs), Readers::Usual)
        .map_err(|why| SessionError::unwritten(path, why))?;
    let mut file = BufWriter::new(whole.file());
    let done = write(&mut file)?;
    file.flush().map_err(|why| SessionError::unwritten(path, why))?;
    drop(file);
    whole.keep().map_err(|why| SessionError::unwritten(path, why))?;
    Ok(done)
}

/// Writes a file whole if none exists yet.
///
/// # Errors
/// If something is there, or it cannot be written.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), SessionError> {
    let whole = write_part(path, bytes, Readers::Usual)?;
    whole.keep().map_err(|why| SessionError::unwritten(path, why))
}

/// The same up to its last step, with which it gets its name.
pub(crate) fn write_part(path: &Path, bytes: &[u8], readers: Readers) -> Result<Whole, SessionError> {
    let mut whole =
        Whole::begin(path, Place::Free, readers).map_err(|why| SessionError::unwritten(path, why))?;
    whole.file().write_all(bytes).map_err(|why| SessionError::unwritten(path, why))?;
    Ok(whole)
}

/// Checks whether a file may be written there, before much is done to make it.
///
/// # Errors
/// As [`write_whole`] would.
pub fn may_write(path: &Path, inputs: &[&Path]) -> Result<(), SessionError> {
    Whole::begin(path, Place::Over(inputs), Readers::Usual)
        .map(drop)
        .map_err(|why| SessionError::unwritten(path, why))
}
