//! Whether the log is as it was written.

use crate::append;
use crate::error::{Damage, Fault, JournalError};
use crate::hash::Head;
use crate::open::{self, Journal};
use crate::walk::{StoredReading, TakesIn, Walked};
use record::Entry;

impl Journal {
    /// Checks the whole chain and everything else in the file. Returns the state that was found whole.
    ///
    /// # Errors
    /// [`Fault::Broken`] names the first entry that does not fit; [`Fault::Altered`] the changed guards or tables;
    /// [`Fault::Damaged`] what SQLite's own check of the file finds. The first that applies, in that order.
    pub fn verify(&self) -> Result<Head, JournalError> {
        self.verify_into(Nothing).map(|walked| walked.head)
    }

    /// The same, and passes every entry to `into` on the way; only the end shows whether they are whole.
    ///
    /// # Errors
    /// As [`Journal::verify`].
    pub fn verify_into<W: TakesIn>(&self, into: W) -> Result<Walked<W>, JournalError> {
        let sqlite = |e| self.sqlite(e);
        // One read-only transaction: all of it sees the same state, and writers continue meanwhile.
        let tx = self.conn.unchecked_transaction().map_err(sqlite)?;
        let alteration = open::altered(&tx, &self.path, &self.real)?;
        let walked = self.walk_into(into);
        let altered = alteration.map(|what| self.error(Fault::Altered(what)));
        let found = match (walked, altered) {
            (Err(error @ JournalError { fault: Fault::Broken(_), .. }), _) => return Err(error),
            (_, Some(error)) => return Err(error),
            (walked, None) => walked?,
        };
        append::head(&tx).map_err(|e| e.at(&self.path))?;
        let said: String = tx.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0)).map_err(sqlite)?;
        // After a heading, what it found.
        let found_wrong = said.lines().filter(|line| !line.starts_with("***")).collect::<Vec<_>>().join("; ");
        if said == "ok" { Ok(found) } else { Err(self.error(Fault::Damaged(Damage::Check(found_wrong)))) }
    }
}

/// Keeps nothing.
struct Nothing;

impl TakesIn for Nothing {
    fn reading(&mut self, _: &StoredReading<'_>) {}
    fn entry(&mut self, _: Entry) {}
}
