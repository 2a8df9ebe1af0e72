//! Whether a table was imported before: the same readings in the same order.

use record::{Entry, Reading, Source, What};

/// A table with fewer readings is imported without a question: one value may repeat by chance.
const FEWEST: u64 = 2;

/// Positions in the log's imported readings where the table may begin, as far as it was read.
#[derive(Debug)]
pub(super) struct Again {
    before: Vec<(u64, Reading)>,
    starts: Option<Vec<usize>>,
    read: usize,
}

/// The entries that already hold the same readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Before {
    pub(super) first: u64,
    pub(super) last: u64,
}

impl Again {
    /// From the imported readings among the entries, which are the only ones that matter.
    pub(super) fn of(counting: impl Iterator<Item = Entry>) -> Self {
        let imported = counting.filter_map(|e| match e.what {
            What::Reading(r) if r.source == Source::Imported => Some((e.seq, r)),
            _ => None,
        });
        Self { before: imported.collect(), starts: None, read: 0 }
    }

    pub(super) fn saw(&mut self, reading: &Reading) {
        let read = self.read;
        let same = |at: usize| self.before.get(at).is_some_and(|(_, there)| alike(there, reading));
        self.starts = Some(match self.starts.take() {
            None => (0..self.before.len()).filter(|start| same(*start)).collect(),
            Some(mut starts) => {
                starts.retain(|start| same(start + read));
                starts
            }
        });
        self.read += 1;
    }

    /// The entries that hold the whole table, once it is read; `None` if it is new.
    pub(super) fn found(&self) -> Option<Before> {
        let start = *self.starts.as_ref()?.last()?;
        let end = self.before.get(start + self.read.checked_sub(1)?)?;
        let begin = self.before.get(start)?;
        (self.read as u64 >= FEWEST).then_some(Before { first: begin.0, last: end.0 })
    }
}

fn alike(one: &Reading, other: &Reading) -> bool {
    one.point == other.point
        && one.facing == other.facing
        && one.instrument == other.instrument
        && one.value.to_bits() == other.value.to_bits()
        && one.temperature == other.temperature
}
