//! Writes a file whole or not at all, without ever replacing something else.
//!
//! The file is made beside its place under a name of its own (`.jigtrue-part-..`), flushed to disk and moved into
//! place; then the folder is flushed. While it is made, it is locked. A part without a lock was left by a killed
//! program, and the next file written in the folder removes it.

mod target;

pub use target::{Existing, Refusal};

use crate::error::plain;
use crate::file::{self, Identity};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

/// What the name of every part begins with.
const PART: &str = ".jigtrue-part-";

/// Who may read the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Readers {
    /// Whatever the system permits for any new file.
    Usual,
    /// Only its owner.
    Owner,
}

/// What may already be at the file's path.
#[derive(Clone, Copy, Debug)]
pub enum Place<'a> {
    /// Nothing.
    Free,
    /// Nothing, or a plain file that is not a log, not a key and not one of these files, which the command reads.
    Over(&'a [&'a Path]),
}

/// Why a file was not written. What was at its path is still there.
#[derive(Debug, thiserror::Error)]
pub enum WholeError {
    /// Something at its path must not be replaced.
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// There is no such folder.
    #[error("there is no folder {}; make it first", .0.display())]
    NoFolder(PathBuf),
    /// The system refused.
    #[error("cannot be written: {}", plain(.0))]
    System(#[from] io::Error),
}

/// A file being written. Dropped without [`Whole::keep`], it leaves nothing.
#[derive(Debug)]
pub struct Whole {
    file: File,
    part: PathBuf,
    real: PathBuf,
    free: bool,
}

impl Whole {
    /// Begins a file at `path`, after checking that it may be written there.
    ///
    /// # Errors
    /// If what is at `path` must not be replaced, there is no such folder, or it cannot be written.
    pub fn begin(path: &Path, place: Place<'_>, readers: Readers) -> Result<Self, WholeError> {
        let real = target::real(path, place)?;
        let folder = real.parent().unwrap_or(Path::new("/")).to_owned();
        if !folder.is_dir() {
            return Err(WholeError::NoFolder(folder));
        }
        clear(&folder);
        let (part, file) = make(&folder, readers)?;
        Ok(Self { file, part, real, free: matches!(place, Place::Free) })
    }

    /// The file, to write to.
    pub const fn file(&mut self) -> &mut File {
        &mut self.file
    }

    /// The name it has until it is kept.
    pub fn part(&self) -> &Path {
        &self.part
    }

    /// Flushes it to disk and moves it into place. It is durable when this returns.
    ///
    /// # Errors
    /// If the system refuses; then only what was there before is left.
    pub fn keep(self) -> Result<(), WholeError> {
        self.file.sync_all()?;
        if self.free {
            self.move_to_free_place()?;
        } else {
            fs::rename(&self.part, &self.real)?;
        }
        file::sync_names(&self.real)?;
        Ok(())
    }

    /// Moves it to an unused name, even if another program is about to take that name.
    fn move_to_free_place(&self) -> Result<(), WholeError> {
        match fs::hard_link(&self.part, &self.real) {
            Ok(()) => Ok(()),
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists => Err(Refusal::Exists.into()),
            // On a file system without hard links (a USB stick) there is a moment in which another program could take
            // the name.
            Err(_) if fs::symlink_metadata(&self.real).is_err() => Ok(fs::rename(&self.part, &self.real)?),
            Err(_) => Err(Refusal::Exists.into()),
        }
    }
}

impl Drop for Whole {
    fn drop(&mut self) {
        // After a rename it is gone; nothing else needs doing.
        let _ = fs::remove_file(&self.part);
    }
}

/// A new part in the folder, locked.
fn make(folder: &Path, readers: Readers) -> Result<(PathBuf, File), WholeError> {
    static NEXT: AtomicU32 = AtomicU32::new(0);
    loop {
        let n = NEXT.fetch_add(1, Ordering::Relaxed);
        let part = folder.join(format!("{PART}{}-{n}", std::process::id()));
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        if readers == Readers::Owner {
            std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        }
        let file = match options.open(&part) {
            Ok(file) => file,
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists => continue,
            Err(why) => return Err(why.into()),
        };
        // If another program removed it before the lock was taken, the file has no name: make another.
        match file.try_lock() {
            Err(TryLockError::WouldBlock) => {}
            Ok(()) | Err(TryLockError::Error(_)) if Identity::at(&part).is_some() => return Ok((part, file)),
            Ok(()) | Err(TryLockError::Error(_)) => {}
        }
    }
}

/// Removes the parts left by killed programs. What cannot be removed is left: it does no harm.
pub(crate) fn clear(folder: &Path) {
    let Ok(all) = fs::read_dir(folder) else { return };
    for found in all.flatten() {
        let ours = found.file_name().to_str().is_some_and(is_part);
        if ours && found.file_type().is_ok_and(|t| t.is_file()) {
            let part = found.path();
            if let Ok(file) = OpenOptions::new().write(true).open(&part)
                && file.try_lock().is_ok()
            {
                let _ = fs::remove_file(&part);
            }
        }
    }
}

/// Whether the name has exactly the form `.jigtrue-part-PID-N`.
fn is_part(name: &str) -> bool {
    let numbers = name.strip_prefix(PART).and_then(|rest| rest.split_once('-'));
    numbers.is_some_and(|(pid, n)| pid.parse::<u32>().is_ok() && n.parse::<u32>().is_ok())
}
