//! Which round a reading belongs to.

use record::{At, Entry, Reading, What};
use std::collections::BTreeMap;

/// A pause longer than this begins a new round: four hours, in milliseconds.
const PAUSE_MILLIS: i64 = 4 * 3600 * 1000;

/// The rounds under way.
///
/// A round is one walk with one set-up of one instrument. It goes on until a stage begins or a support is moved, until
/// its instrument rested for more than four hours, or until a new one is asked for.
#[derive(Clone, Debug, Default)]
pub(crate) struct Rounds {
    last: u32,
    going: BTreeMap<Option<String>, (u32, At)>,
}

impl Rounds {
    pub(crate) fn of(entries: &[Entry]) -> Self {
        let mut rounds = Self::default();
        for entry in entries {
            rounds.saw(entry.at, &entry.what);
        }
        rounds
    }

    /// The number of the last round.
    pub(crate) const fn last(&self) -> u32 {
        self.last
    }

    /// Takes an entry into account.
    pub(crate) fn saw(&mut self, at: At, what: &What) {
        match what {
            What::Reading(reading) => self.saw_reading(at, reading),
            other if Self::ends(other) => self.going.clear(),
            _ => {}
        }
    }

    /// Takes a reading into account.
    pub(crate) fn saw_reading(&mut self, at: At, reading: &Reading) {
        self.last = self.last.max(reading.round);
        self.going.insert(reading.instrument.clone(), (reading.round, at));
    }

    /// True for what ends every round: the wing or the jig is not as it was.
    pub(crate) const fn ends(what: &What) -> bool {
        matches!(what, What::Stage(_) | What::Move(_))
    }

    /// The round of a reading taken now.
    pub(crate) fn next(&self, instrument: Option<&str>, at: At, asked_new: bool) -> u32 {
        match self.going(instrument, at) {
            Some(round) if !asked_new => round,
            _ => self.last.saturating_add(1),
        }
    }

    /// The round under way with that instrument, if one is.
    pub(crate) fn going(&self, instrument: Option<&str>, at: At) -> Option<u32> {
        let (round, last) = self.going.get(&instrument.map(str::to_owned))?;
        (at.millis() - last.millis() <= PAUSE_MILLIS).then_some(*round)
    }
}
