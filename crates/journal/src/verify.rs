//! Is the log as it was written?

use crate::append;
use crate::error::{Break, Damage, Fault, JournalError, Why};
use crate::hash::Head;
use crate::open::Journal;
use crate::row::{COLUMNS, RawRow};
use crate::schema;
use record::Entry;

impl Journal {
    /// Walks the whole chain and looks at everything else in the file. Returns the state that was found whole.
    ///
    /// # Errors
    /// [`Fault::Broken`] names the first entry that does not fit; [`Fault::Altered`] what guards or tables are not as they
    /// were made; [`Fault::Damaged`] what SQLite's own check of the file finds. The first of these that applies, in that order.
    pub fn verify(&self) -> Result<Head, JournalError> {
        self.verify_each(|_| {})
    }

    /// The same, and hands out every entry on the way, which is found whole or not only at the end.
    ///
    /// # Errors
    /// As [`Journal::verify`].
    pub fn verify_each(&self, each: impl FnMut(Entry)) -> Result<Head, JournalError> {
        let sqlite = |e| self.sqlite(e);
        // One transaction that only reads: all of it sees the same state, and writers go on meanwhile.
        let tx = self.conn.unchecked_transaction().map_err(sqlite)?;
        let alteration = schema::alteration(&tx).map_err(sqlite)?;
        let walked = self.walk(each);
        let altered = alteration.map(|what| self.error(Fault::Altered(what)));
        let head = match (walked, altered) {
            (Err(error @ JournalError { fault: Fault::Broken(_), .. }), _) => return Err(error),
            (_, Some(error)) => return Err(error),
            (walked, None) => walked?,
        };
        append::head(&tx).map_err(|e| e.at(&self.path))?;
        let said: String = tx.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0)).map_err(sqlite)?;
        if said == "ok" { Ok(head) } else { Err(self.error(Fault::Damaged(Damage::Check(said)))) }
    }

    fn walk(&self, mut each: impl FnMut(Entry)) -> Result<Head, JournalError> {
        let sqlite = |e| self.sqlite(e);
        let broken = |at| self.error(Fault::Broken(at));
        let mut query =
            self.conn.prepare_cached(&format!("SELECT {COLUMNS} FROM entry ORDER BY seq")).map_err(sqlite)?;
        let mut rows = query.query([]).map_err(sqlite)?;
        let mut head = Head::genesis();
        while let Some(row) = rows.next().map_err(sqlite)? {
            let raw = RawRow::read(row, head.seq + 1).map_err(broken)?;
            each(self.next_entry(&raw, &mut head).map_err(sqlite)?.map_err(broken)?);
        }
        if head.seq == 0 {
            return Err(broken(Break { seq: 1, why: Why::Missing }));
        }
        Ok(head)
    }
}
