//! Writing a long table while no other program has the log open.
//!
//! Through the write-ahead log every page is written twice, once beside the log and once into it. If nobody else has
//! the log open, a long table goes straight into it, and a rollback journal keeps the old content until everything is
//! on disk. Other programs that open the log meanwhile wait, as they do for any program's turn. If the program is
//! killed in between, the next one to open the log rolls everything back.

use crate::append::NewEntry;
use crate::error::JournalError;
use crate::file::Identity;
use crate::hash::Head;
use crate::open::{Journal, to_shared_mode};
use rusqlite::TransactionBehavior;

impl Journal {
    /// Appends a long run of entries, all or none, like [`Journal::append_many`]. It is faster if no other program
    /// has the log open; then no other program can read the log meanwhile.
    ///
    /// # Errors
    /// As [`Journal::append_many`].
    pub fn append_long<S: AsRef<str>, E: From<JournalError>>(
        &mut self,
        entries: impl IntoIterator<Item = Result<NewEntry<S>, E>>,
    ) -> Result<Head, E> {
        self.may_write()?;
        if !self.go_alone().map_err(|e| self.sqlite(e))? {
            return self.append_all(entries, TransactionBehavior::Immediate);
        }
        let done = self.append_all(entries, TransactionBehavior::Exclusive);
        // What was written is on disk. If the way back is barred, the log continues as it is, and every entry is as
        // durable. If another file has taken its place, no file is made beside that one.
        if self.still_there().is_ok() {
            let _ = self.share();
        }
        done
    }

    /// Leaves the write-ahead log; false if another program has the log open.
    fn go_alone(&mut self) -> rusqlite::Result<bool> {
        let mode = self.conn.pragma_update_and_check(None, "journal_mode", "delete", |row| row.get(0));
        let alone = mode.is_ok_and(|mode: String| mode == "delete");
        if alone {
            self.files.truncate(1);
            // The folder is flushed after a journal is deleted; the write-ahead log does not need that.
            self.conn.pragma_update(None, "synchronous", "EXTRA")?;
        }
        Ok(alone)
    }

    /// Goes back to the write-ahead log.
    fn share(&mut self) -> rusqlite::Result<()> {
        if to_shared_mode(&self.conn)? == "wal" {
            self.conn.pragma_update(None, "synchronous", "FULL")?;
            // The first access creates the part beside the log.
            self.conn.pragma_query_value(None, "user_version", |_| Ok(()))?;
            self.files.truncate(1);
            self.files.extend(Identity::at(&self.wal).map(|found| (self.wal.clone(), found)));
        }
        Ok(())
    }
}
