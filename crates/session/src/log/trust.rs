//! Walking the chain on purpose, and what has come since a head that someone wrote down.

use super::sign::signature_of;
use super::{Session, SignatureCheck};
use crate::SessionError;
use journal::{Head, Journal};
use std::path::Path;

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
    pub fn verify(&self) -> Result<(u64, String), SessionError> {
        let Head { seq, hash } = self.journal.verify()?;
        Ok((seq, hash.to_string()))
    }
}

/// A log whose chain was walked on purpose, and everything else in its file looked at. Memory does not grow with the log.
#[derive(Debug)]
pub struct Verified {
    journal: Journal,
    head: Head,
    signatures: Vec<SignatureCheck>,
}

impl Verified {
    /// Walks it, once.
    ///
    /// # Errors
    /// When it cannot be opened; the first entry that does not fit, or what else is not as it was written.
    pub fn of(log: &Path) -> Result<Self, SessionError> {
        let journal = Journal::open_read_only(log)?;
        let mut signatures = Vec::new();
        let head = journal.verify_each(|entry| signatures.extend(signature_of(&entry)))?;
        Ok(Self { journal, head, signatures })
    }

    /// How many entries there are and the hash of the last, hexadecimal.
    #[must_use]
    pub fn head(&self) -> (u64, String) {
        (self.head.seq, self.head.hash.to_string())
    }

    /// What became of every cryptographic signature in it.
    #[must_use]
    pub fn signatures(&self) -> &[SignatureCheck] {
        &self.signatures
    }

    /// How a head that someone wrote down (number of entries, hash in hexadecimal) stands to this log.
    ///
    /// # Errors
    /// When the log cannot be read.
    pub fn since(&self, entries: u64, hash: &str) -> Result<Since, SessionError> {
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
