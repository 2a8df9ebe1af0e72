//! Which entries were withdrawn, and why.

use record::{At, Entry, What};
use std::collections::BTreeMap;

/// One withdrawal.
#[derive(Clone, Debug, PartialEq)]
pub struct Withdrawal {
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
    /// Collects the withdrawals among the entries.
    #[must_use]
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Self {
        let mut all = Self::default();
        for entry in entries {
            all.add(entry);
        }
        all
    }

    /// Takes one entry into account; only a withdrawal of an earlier entry counts.
    pub fn add(&mut self, entry: &Entry) {
        if let What::Withdrawn { seq, reason } = &entry.what
            && *seq < entry.seq
        {
            self.0.insert(
                *seq,
                Withdrawal {
                    at: entry.at,
                    by: entry.by.clone(),
                    reason: reason.clone(),
                    what: String::new(),
                },
            );
        }
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
