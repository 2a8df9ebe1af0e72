//! Bringing entries from the part beside the log into the log's own file.

use crate::open::Journal;
use std::sync::atomic::Ordering;

impl Journal {
    /// Brings the entries beside the log into the log and empties the part, so that between two entries the file alone is the whole
    /// log: moved or copied by itself it lacks none, and a part that stays behind holds nothing. An entry needs it to survive neither a
    /// kill nor a loss of power, and it costs three flushes of the disk: whoever writes at the pace of a person calls it before
    /// the entry is acknowledged.
    ///
    /// Nobody is waited for. Where another program reads at this moment, or the disk is full, the next entry or the last to close the
    /// log does it; what was written is on disk in either case, so there is no failure to tell.
    pub fn merge(&self) {
        self.waits.store(false, Ordering::Relaxed);
        let merge = self.conn.prepare_cached("PRAGMA wal_checkpoint(TRUNCATE)");
        let _ = merge.and_then(|mut merge| merge.query_row([], |_| Ok(())));
        self.waits.store(true, Ordering::Relaxed);
    }
}
