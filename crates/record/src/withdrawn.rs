//! Which entries are withdrawn.

use crate::{Entry, What, Withdrawable};
use std::collections::BTreeMap;

/// The withdrawn entries, each with the number of the withdrawal in force.
///
/// A withdrawal can itself be withdrawn; then its target counts again. A withdrawal has no effect if its target comes
/// later, is itself, or is of a kind that cannot be withdrawn.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Withdrawn(BTreeMap<u64, u64>);

impl Withdrawn {
    /// From entries in the order they were written. Some may be missing, but no withdrawal.
    #[must_use]
    pub fn of<'a, I>(entries: I) -> Self
    where
        I: IntoIterator<Item = &'a Entry, IntoIter: DoubleEndedIterator + Clone>,
    {
        let entries = entries.into_iter();
        let mut gone = BTreeMap::new();
        // Newest first: a withdrawal of a withdrawal comes after it.
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

    /// Those of the entries that are not withdrawn. Some may be missing, but no withdrawal.
    pub fn others(entries: &[Entry]) -> impl DoubleEndedIterator<Item = &Entry> + Clone {
        let gone = Self::of(entries);
        entries.iter().filter(move |entry| !gone.contains(entry.seq))
    }

    /// The number of the withdrawal in force for an entry, if any.
    #[must_use]
    pub fn by(&self, seq: u64) -> Option<u64> {
        self.0.get(&seq).copied()
    }

    /// Whether the entry with this number is withdrawn.
    #[must_use]
    pub fn contains(&self, seq: u64) -> bool {
        self.0.contains_key(&seq)
    }
}
