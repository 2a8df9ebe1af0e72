//! Which entries are withdrawn.

use crate::{Entry, What, Withdrawable};
use std::collections::BTreeMap;

/// The entries that do not count, each with the number of the withdrawal in force.
///
/// A withdrawal can itself be withdrawn: then what it withdrew counts again. A withdrawal of an entry that comes later, of
/// itself, or of a kind that cannot be withdrawn has no effect.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Withdrawn(BTreeMap<u64, u64>);

impl Withdrawn {
    /// From entries in the order they were written; where only some are at hand, the withdrawals must all be.
    #[must_use]
    pub fn of<'a, I>(entries: I) -> Self
    where
        I: IntoIterator<Item = &'a Entry, IntoIter: DoubleEndedIterator + Clone>,
    {
        let entries = entries.into_iter();
        let mut gone = BTreeMap::new();
        // The newest first: what withdraws a withdrawal comes after it.
        for entry in entries.clone().rev() {
            if let What::Withdrawn { seq, .. } = entry.what
                && seq < entry.seq
                && !gone.contains_key(&entry.seq)
            {
                gone.insert(seq, entry.seq);
            }
        }
        for entry in entries {
            if matches!(entry.what.withdrawable(), Withdrawable::Never(_)) {
                gone.remove(&entry.seq);
            }
        }
        Self(gone)
    }

    /// The number of the withdrawal that is in force for an entry, if one is.
    #[must_use]
    pub fn by(&self, seq: u64) -> Option<u64> {
        self.0.get(&seq).copied()
    }

    /// True if the entry of that number does not count.
    #[must_use]
    pub fn contains(&self, seq: u64) -> bool {
        self.0.contains_key(&seq)
    }
}
