//! What an entry contained, with its time and writer.

use record::{At, Entry, UtcOffset, When};
use std::collections::BTreeMap;

/// What an entry contained, with its time and writer.
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

/// The writer's offset from UTC over the log, stored where it changes.
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
    pub fn when(&self, seq: u64, at: At) -> When {
        When { at, offset: self.offsets.range(..=seq).next_back().and_then(|(_, offset)| *offset) }
    }
}
