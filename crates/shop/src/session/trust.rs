//! Walking the chain on purpose, and what has come since a head that someone wrote down.

use super::Session;
use crate::ShopError;
use journal::Head;

/// How a head that someone wrote down stands to the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Since {
    /// It is the log's present head.
    Same,
    /// It is an earlier state of this log; so many entries came since.
    Earlier(u64),
    /// It is no state of this log.
    Foreign,
}

impl Session {
    /// Walks the whole chain and looks at everything else in the file.
    ///
    /// # Errors
    /// The first entry that does not fit, or what else is not as it was written.
    pub fn verify(&self) -> Result<(u64, String), ShopError> {
        let Head { seq, hash } = self.journal.verify()?;
        Ok((seq, hash.to_string()))
    }

    /// How a head (number of entries, hash in hexadecimal) stands to this log, whose chain was walked before.
    ///
    /// # Errors
    /// When the log cannot be read.
    pub fn since(&self, entries: u64, hash: &str) -> Result<Since, ShopError> {
        let stored = self.journal.hash_at(entries)?;
        let found = stored.is_some_and(|h| h.to_string().eq_ignore_ascii_case(hash));
        let last = self.head.seq;
        Ok(match found {
            false => Since::Foreign,
            true if last == entries => Since::Same,
            true => Since::Earlier(last.saturating_sub(entries)),
        })
    }
}
