//! A copy of the log while it is in use.

use crate::error::{Fault, JournalError};
use crate::file;
use crate::open::Journal;
use std::fs::{self, File};
use std::path::Path;

impl Journal {
    /// Copies the log as it stands to `path`, whole or not at all; other programs can write meanwhile.
    ///
    /// # Errors
    /// If something is at `path` already, or it cannot be written.
    pub fn backup_to(&self, path: &Path) -> Result<(), JournalError> {
        let io = |e| JournalError::io(path, &e);
        let real = std::path::absolute(path).map_err(io)?;
        if fs::symlink_metadata(&real).is_ok() {
            return Err(JournalError::new(path, Fault::Exists));
        }
        let part = file::beside(&real, ".part");
        let copied =
            self.copy_into(&part).map_err(|e| JournalError { path: path.to_owned(), ..e }).and_then(|()| {
                // The copy is nobody's open database yet, so a descriptor of our own does no harm.
                File::options().write(true).open(&part).and_then(|f| f.sync_all()).map_err(io)?;
                fs::rename(&part, &real).map_err(io)?;
                file::sync_folder(&real)
            });
        if copied.is_err() {
            let _ = fs::remove_file(&part);
        }
        copied
    }

    fn copy_into(&self, part: &Path) -> Result<(), JournalError> {
        let name = part
            .to_str()
            .ok_or_else(|| self.error(Fault::Other("a backup's name must be Unicode text".to_owned())))?;
        match fs::remove_file(part) {
            Err(e) if e.kind() != std::io::ErrorKind::NotFound => return Err(JournalError::io(part, &e)),
            _ => {}
        }
        self.conn.execute("VACUUM INTO ?1", [name]).map(|_| ()).map_err(|e| self.sqlite(&e))
    }
}
