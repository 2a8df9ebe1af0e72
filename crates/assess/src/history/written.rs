//! What entries said, when and by whom.

use record::{At, Entry, UtcOffset, When};
use std::collections::BTreeMap;

/// What an entry said, when and by whom.
#[derive(Clone, Debug, PartialEq)]
pub struct Said<T> {
    /// The number of the entry.
    pub seq: u64,
    pub when: When,
    pub by: String,
    pub what: T,
}

impl<T: Clone> Said<T> {
    pub(super) fn of(entry: &Entry, what: &T) -> Self {
        Self { seq: entry.seq, when: entry.when(), by: entry.by.clone(), what: what.clone() }
    }
}

/// When readings were written: the writer's offset from UTC, kept where it changes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Written {
    offsets: BTreeMap<u64, Option<UtcOffset>>,
}

impl Written {
    /// Takes the next entry into account.
    pub(super) fn saw(&mut self, entry: &Entry) {
        if self.offsets.values().next_back() != Some(&entry.offset) {
            self.offsets.insert(entry.seq, entry.offset);
        }
    }

    /// When an entry was written, in its own offset.
    #[must_use]
    pub fn when(&self, seq: u64, at: At) -> When {
        When { at, offset: self.offsets.range(..=seq).next_back().and_then(|(_, offset)| *offset) }
    }
}
