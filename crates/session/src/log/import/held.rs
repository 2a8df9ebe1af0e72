//! The readings already in a log: an export of the log itself is not a second measurement.

use super::fault::LineFault;
use record::{At, Entry, Reading, Withdrawn};
use std::hash::{DefaultHasher, Hash, Hasher};

/// Every reading by its time, and by a short hash of its content: two with both equal are the same.
#[derive(Debug)]
pub(super) struct Held {
    readings: Vec<Key>,
    withdrawn: Withdrawn,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Key {
    at: At,
    says: u64,
    seq: u64,
}

impl Held {
    /// From all entries of a log; `withdrawn` says which were withdrawn.
    pub(super) fn of(entries: impl Iterator<Item = Entry>, withdrawn: Withdrawn) -> Self {
        let key = |e: Entry| Some(Key { at: e.at, says: says(e.what.reading()?), seq: e.seq });
        let mut readings: Vec<Key> = entries.filter_map(key).collect();
        readings.sort_unstable();
        Self { readings, withdrawn }
    }

    /// Why the reading is not imported, if it is the log's own.
    pub(super) fn refuses(&self, at: At, reading: &Reading) -> Option<LineFault> {
        let says = says(reading);
        let from = self.readings.partition_point(|key| (key.at, key.says) < (at, says));
        let seq = self.readings.get(from).filter(|key| (key.at, key.says) == (at, says))?.seq;
        Some(match self.withdrawn.by(seq) {
            None => LineFault::Own(seq),
            Some(by) => LineFault::OwnWithdrawn { seq, by },
        })
    }
}

fn says(reading: &Reading) -> u64 {
    let mut hasher = DefaultHasher::new();
    reading.point.hash(&mut hasher);
    reading.facing.hash(&mut hasher);
    reading.instrument.hash(&mut hasher);
    reading.value.to_bits().hash(&mut hasher);
    hasher.finish()
}
