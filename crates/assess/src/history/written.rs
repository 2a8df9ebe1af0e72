//! When entries were written, as their writers' clocks showed it, and by whom.

use record::{At, Entry, UtcOffset, What, When};
use std::collections::BTreeMap;

/// A remark.
#[derive(Clone, Debug, PartialEq)]
pub struct Noted {
    /// Its entry.
    pub seq: u64,
    /// By whom.
    pub by: String,
    /// The remark.
    pub text: String,
}

/// When, and for every entry but readings and the minutes of a watch, by whom.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Written {
    /// The writer's offset from UTC, where it changes.
    offsets: BTreeMap<u64, Option<UtcOffset>>,
    by: BTreeMap<u64, (At, String)>,
}

impl Written {
    /// Takes the next entry into account.
    pub(super) fn saw(&mut self, entry: &Entry) {
        if self.offsets.values().next_back() != Some(&entry.offset) {
            self.offsets.insert(entry.seq, entry.offset);
        }
        if !matches!(entry.what, What::Reading(_) | What::Drift { .. }) {
            self.by.insert(entry.seq, (entry.at, entry.by.clone()));
        }
    }

    /// When an entry was written, in its own offset.
    #[must_use]
    pub fn when(&self, seq: u64, at: At) -> When {
        When { at, offset: self.offsets.range(..=seq).next_back().and_then(|(_, offset)| *offset) }
    }

    /// When an entry was written, where it is none of readings.
    #[must_use]
    pub fn entry(&self, seq: u64) -> Option<When> {
        self.by.get(&seq).map(|(at, _)| self.when(seq, *at))
    }

    /// Who wrote it.
    #[must_use]
    pub fn by(&self, seq: u64) -> &str {
        self.by.get(&seq).map_or("", |(_, by)| by)
    }
}
