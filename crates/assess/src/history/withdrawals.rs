//! Which entries were withdrawn, and why.

use super::Said;
use record::{Entry, What};
use std::collections::BTreeMap;

/// A withdrawal in force.
#[derive(Clone, Debug, PartialEq)]
pub struct Withdrawal {
    /// Why.
    pub reason: Said<String>,
    /// What was withdrawn, as text; filled in while folding.
    pub withdrew: String,
}

/// Every withdrawal, by the number of the entry withdrawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Withdrawals(BTreeMap<u64, Withdrawal>);

impl Withdrawals {
    /// Collects the withdrawals in force.
    pub fn of<'a, I>(entries: I) -> Self
    where
        I: IntoIterator<Item = &'a Entry, IntoIter: DoubleEndedIterator + Clone>,
    {
        let entries = entries.into_iter();
        let gone = record::Withdrawn::of(entries.clone());
        let in_force = entries.filter_map(|entry| match &entry.what {
            What::Withdrawn { seq, reason } if gone.by(*seq) == Some(entry.seq) => {
                Some((*seq, Withdrawal { reason: Said::of(entry, reason), withdrew: String::new() }))
            }
            _ => None,
        });
        Self(in_force.collect())
    }

    /// Whether the entry with this number was withdrawn.
    pub fn contains(&self, seq: u64) -> bool {
        self.0.contains_key(&seq)
    }

    /// Notes what the withdrawn entry was.
    pub(super) fn describe(&mut self, seq: u64, what: String) {
        if let Some(withdrawal) = self.0.get_mut(&seq) {
            withdrawal.withdrew = what;
        }
    }

    /// All withdrawals by rising entry number.
    pub fn iter(&self) -> impl Iterator<Item = (u64, &Withdrawal)> {
        self.0.iter().map(|(seq, w)| (*seq, w))
    }
}
