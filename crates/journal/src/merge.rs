//! Moving entries from the part beside the log into the log's own file.

use crate::open::Journal;
use std::sync::atomic::Ordering;

impl Journal {
    /// Moves the entries beside the log into the log and empties the part, so that between two entries the file alone
    /// is the whole log: moved or copied alone it lacks nothing, and a part that stays behind is empty. An entry
    /// survives a kill or a loss of power without this, and it costs three disk flushes: a program that writes at the
    /// pace of a person calls it before acknowledging the entry.
    ///
    /// It waits for nobody. If another program is reading at this moment, or the disk is full, the next entry or the
    /// last program to close the log does it. Either way the entries are on disk, so there is no failure to report.
    pub fn merge(&self) {
        self.waits.store(false, Ordering::Relaxed);
        let merge = self.conn.prepare_cached("PRAGMA wal_checkpoint(TRUNCATE)");
        let _ = merge.and_then(|mut merge| merge.query_row([], |_| Ok(())));
        self.waits.store(true, Ordering::Relaxed);
    }
}
