//! A log file of bounded size: a full file is put aside, and the oldest is deleted.

use crate::file_fault::FileFault;
use crate::{Cannot, SessionError};
use std::ffi::OsString;
use std::fs::{File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

/// The first line of such a file; no other file is written to.
const MARK: &str = "# jigtrue: lines of a watch\n";
/// Size at which a file is put aside, in bytes.
const FULL: u64 = 1 << 20;
/// Files put aside that are kept; `.1` is the newest.
const KEPT: u32 = 5;

/// Writes lines into a file, and into a new one when that is full.
#[derive(Debug)]
pub struct Rotating {
    path: PathBuf,
    file: File,
    size: u64,
    full: u64,
}

impl Rotating {
    /// Continues a file of this kind, or begins one.
    ///
    /// # Errors
    /// If it is another kind of file, or cannot be written.
    pub fn open(path: &Path) -> Result<Self, SessionError> {
        Self::open_until(path, FULL)
    }

    fn open_until(path: &Path, full: u64) -> Result<Self, SessionError> {
        let unwritten = |why| SessionError::io(path, Cannot::Write, why);
        let other = || SessionError::file(path, FileFault::NotAWatch);
        match std::fs::metadata(path) {
            Ok(meta) if !meta.is_file() => return Err(other()),
            Ok(meta) if meta.len() > 0 => {
                let mut begins = vec![0; MARK.len()];
                let read = File::open(path).and_then(|mut file| file.read_exact(&mut begins));
                if read.is_err() || begins != MARK.as_bytes() {
                    return Err(other());
                }
            }
            Ok(_) => {}
            Err(why) if why.kind() == io::ErrorKind::NotFound => {}
            Err(why) => return Err(unwritten(why)),
        }
        let mut this =
            Self { path: path.to_owned(), file: appended(path).map_err(unwritten)?, size: 0, full };
        this.size = this.file.metadata().map_err(unwritten)?.len();
        this.mark().map_err(unwritten)?;
        Ok(this)
    }

    /// Writes a line.
    ///
    /// # Errors
    /// If it cannot be written; the next line tries again.
    pub fn line(&mut self, text: &str) -> Result<(), SessionError> {
        self.put(&format!("{text}\n")).map_err(|why| SessionError::io(&self.path, Cannot::Write, why))
    }

    fn put(&mut self, line: &str) -> io::Result<()> {
        if self.size > self.full {
            self.put_aside()?;
        }
        self.file.write_all(line.as_bytes())?;
        self.size += line.len() as u64;
        Ok(())
    }

    fn mark(&mut self) -> io::Result<()> {
        if self.size == 0 {
            self.file.write_all(MARK.as_bytes())?;
            self.size = MARK.len() as u64;
        }
        Ok(())
    }

    fn put_aside(&mut self) -> io::Result<()> {
        for number in (1..KEPT).rev() {
            match std::fs::rename(self.aside(number), self.aside(number + 1)) {
                Err(why) if why.kind() != io::ErrorKind::NotFound => return Err(why),
                _ => {}
            }
        }
        std::fs::rename(&self.path, self.aside(1))?;
        self.file = appended(&self.path)?;
        self.size = 0;
        self.mark()
    }

    fn aside(&self, number: u32) -> PathBuf {
        let mut name = OsString::from(&self.path);
        name.push(format!(".{number}"));
        name.into()
    }
}

fn appended(path: &Path) -> io::Result<File> {
    OpenOptions::new().append(true).create(true).open(path)
}

#[cfg(test)]
mod tests;
