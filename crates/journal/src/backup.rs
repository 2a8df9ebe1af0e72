//! A copy of the log while it is in use.

use crate::error::{Fault, JournalError};
use crate::open::Journal;
use crate::whole::{Place, Readers, Refusal, Whole, WholeError};
use rusqlite::backup::Backup;
use rusqlite::{Connection, OpenFlags};
use std::path::Path;
use std::time::Duration;

impl Journal {
    /// Copies the present state of the log to `path`, whole or not at all. Other programs can write meanwhile, and
    /// the log may be read-only.
    ///
    /// # Errors
    /// If something is at `path` already, or it cannot be written.
    pub fn backup_to(&self, path: &Path) -> Result<(), JournalError> {
        let whole = Whole::begin(path, Place::Free, Readers::Usual).map_err(|why| unwritten(path, why))?;
        self.copy_into(whole.part()).map_err(|e| JournalError::sqlite(path, e))?;
        whole.keep().map_err(|why| unwritten(path, why))
    }

    /// All pages in one step: the copy is of one state of the log.
    fn copy_into(&self, part: &Path) -> rusqlite::Result<()> {
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let mut copy = Connection::open_with_flags(part, flags)?;
        // Nobody uses the copy until it is moved into place, and it is flushed to disk before that.
        copy.pragma_update(None, "synchronous", "OFF")?;
        copy.pragma_update(None, "journal_mode", "OFF")?;
        Backup::new(&self.conn, &mut copy)?.run_to_completion(i32::MAX, Duration::from_millis(5), None)?;
        copy.close().map_err(|(_, why)| why)
    }
}

fn unwritten(path: &Path, why: WholeError) -> JournalError {
    match why {
        WholeError::System(why) => JournalError::io(path, why),
        WholeError::NoFolder(folder) => JournalError::new(path, Fault::NoFolder(folder)),
        WholeError::Refused(Refusal::Exists) => JournalError::new(path, Fault::Exists),
        why @ WholeError::Refused(_) => JournalError::because(path, Fault::System, why),
    }
}
