//! Which entries were withdrawn, and why.

use record::{At, Entry, What};
use std::collections::BTreeMap;

/// One withdrawal.
#[derive(Clone, Debug, PartialEq)]
pub struct Withdrawal {
    /// The entry that withdrew it.
    pub seq: u64,
    /// When.
    pub at: At,
    /// By whom.
    pub by: String,
    /// Why.
    pub reason: String,
    /// What was withdrawn, in words; filled in while folding.
    pub what: String,
}

/// Every withdrawal, by the number of the entry withdrawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Withdrawals(BTreeMap<u64, Withdrawal>);

impl Withdrawals {
    /// Collects the withdrawals that are in force among the entries.
    #[must_use]
    pub fn of<'a, I>(entries: I) -> Self
    where
        I: IntoIterator<Item = &'a Entry, IntoIter: DoubleEndedIterator + Clone>,
    {
        let entries = entries.into_iter();
        let gone = record::Withdrawn::of(entries.clone());
        let in_force = entries.filter_map(|entry| match &entry.what {
            What::Withdrawn { seq, reason } if gone.by(*seq) == Some(entry.seq) => {
                let (by, reason) = (entry.by.clone(), reason.clone());
                let withdrawal = Withdrawal { seq: entry.seq, at: entry.at, by, reason, what: String::new() };
                Some((*seq, withdrawal))
            }
            _ => None,
        });
        Self(in_force.collect())
    }

    /// True if the entry of that number was withdrawn.
    #[must_use]
    pub fn contains(&self, seq: u64) -> bool {
        self.0.contains_key(&seq)
    }

    /// Notes what the withdrawn entry was.
    pub(super) fn describe(&mut self, seq: u64, what: String) {
        if let Some(withdrawal) = self.0.get_mut(&seq) {
            withdrawal.what = what;
        }
    }

    /// All of them by growing entry number.
    pub fn iter(&self) -> impl Iterator<Item = (u64, &Withdrawal)> {
        self.0.iter().map(|(seq, w)| (*seq, w))
    }
}
