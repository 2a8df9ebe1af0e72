//! The log for one program alone, while much is written at once.
//!
//! Through the write-ahead log every page is written twice, once beside the log and once into it. Where nobody else has the log open,
//! a long table goes straight into it: what it had there before is kept in a rollback journal until all of it is on disk. Others who
//! open the log meanwhile wait, as for any other program's turn; killed in between, the next to open it takes all of it back.

use crate::append::NewEntry;
use crate::error::JournalError;
use crate::file::Identity;
use crate::hash::Head;
use crate::open::{Journal, to_shared_mode};
use rusqlite::TransactionBehavior;

impl Journal {
    /// Appends a long run of entries, all or none, as [`Journal::append_many`]; faster where no other program has the log open, and
    /// then no other reads it meanwhile.
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
        // What was written is on disk. Where the way back is barred, the log goes on as it is, and every entry is as durable. Beside
        // another file that has its place now no part is made.
        if self.still_there().is_ok() {
            let _ = self.share();
        }
        done
    }

    /// Leaves the write-ahead log; false where another program has the log open.
    fn go_alone(&mut self) -> rusqlite::Result<bool> {
        let mode = self.conn.pragma_update_and_check(None, "journal_mode", "delete", |row| row.get(0));
        let alone = mode.is_ok_and(|mode: String| mode == "delete");
        if alone {
            self.files.truncate(1);
            // The folder is brought to disk after a journal is taken away; the write-ahead log has no need of that.
            self.conn.pragma_update(None, "synchronous", "EXTRA")?;
        }
        Ok(alone)
    }

    /// Goes back to the write-ahead log.
    fn share(&mut self) -> rusqlite::Result<()> {
        if to_shared_mode(&self.conn)? == "wal" {
            self.conn.pragma_update(None, "synchronous", "FULL")?;
            // The first look makes the part beside the log.
            self.conn.pragma_query_value(None, "user_version", |_| Ok(()))?;
            self.files.truncate(1);
            self.files.extend(Identity::at(&self.wal).map(|found| (self.wal.clone(), found)));
        }
        Ok(())
    }
}
