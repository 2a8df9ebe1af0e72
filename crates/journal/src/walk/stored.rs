//! What a walk passes on, and to whom.

use crate::body::{self, Decoded};
use crate::error::Unreadable;
use record::skim::Skimmed;
use record::{At, Entry};

/// Takes in the entries of a log, each once it is known to follow from the one before.
///
/// If the walk ends in an error, what was taken in is worthless.
pub trait TakesIn: Send {
    fn reading(&mut self, reading: &StoredReading<'_>);

    /// Any other entry.
    fn entry(&mut self, entry: Entry);
}

#[derive(Clone, Copy, Debug)]
pub struct StoredReading<'r> {
    /// Its number.
    pub seq: u64,
    /// When it was written.
    pub at: At,
    /// Who wrote it.
    pub by: &'r str,
    /// The rest, as it is in the column `body`.
    pub body: &'r str,
    /// What it says, as far as that decides whether it can still count.
    pub says: Skimmed<'r>,
}

impl StoredReading<'_> {
    /// Its entry; for a reading passed on by a walk this does not fail.
    ///
    /// # Errors
    /// If the body is not that of a reading.
    pub fn read(seq: u64, at: At, by: &str, body: &str) -> Result<Entry, Unreadable> {
        let Decoded { what, offset } = body::decode("reading", body)?;
        Ok(Entry { seq, at, offset, by: by.to_owned(), what })
    }

    /// This reading, parsed in full.
    ///
    /// # Errors
    /// As [`StoredReading::read`].
    pub fn entry(&self) -> Result<Entry, Unreadable> {
        Self::read(self.seq, self.at, self.by, self.body)
    }
}
