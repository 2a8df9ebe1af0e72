//! Which round a reading belongs to.

use record::{At, Entry, Plan, Reading, What};
use std::collections::BTreeMap;

/// A pause longer than this begins a new round: four hours, in milliseconds.
const PAUSE_MILLIS: i64 = 4 * 3600 * 1000;

/// How many entries before the next one belong to the work under way, at most: a thousand, or of a long wing four walks. The same
/// for every way in, so that a reading costs what the work costs and not what the log holds.
pub(crate) fn reach(plan: &Plan) -> u64 {
    1000.max(4 * plan.stations.len() as u64)
}

/// The entries that belong to the work under way.
pub(crate) fn under_way<'e>(plan: &Plan, entries: &'e [Entry]) -> &'e [Entry] {
    let last = entries.last().map_or(0, |e| e.seq);
    let from = entries.partition_point(|e| e.seq + reach(plan) <= last);
    entries.get(from..).unwrap_or_default()
}

/// The rounds under way.
///
/// A round is one walk with one set-up of one instrument. It goes on until a stage begins or a support is moved, until
/// its instrument rested for more than four hours or for as many entries as [`reach`], or until a new one is asked for.
#[derive(Clone, Debug, Default)]
pub(crate) struct Rounds {
    last: u32,
    going: BTreeMap<Option<String>, (u32, At)>,
}

impl Rounds {
    /// From the entries that belong to the work under way; `last` is the highest round of the log.
    pub(crate) fn of(entries: &[Entry], last: u32) -> Self {
        let mut rounds = Self { last, going: BTreeMap::new() };
        for entry in entries {
            rounds.saw(entry.at, &entry.what);
        }
        rounds
    }

    pub(crate) const fn last(&self) -> u32 {
        self.last
    }

    pub(crate) fn saw(&mut self, at: At, what: &What) {
        match what {
            What::Reading(reading) => self.saw_reading(at, reading),
            other if Self::ends(other) => self.going.clear(),
            _ => {}
        }
    }

    pub(crate) fn saw_reading(&mut self, at: At, reading: &Reading) {
        self.last = self.last.max(reading.round);
        match self.going.get_mut(&reading.instrument) {
            Some(going) => *going = (reading.round, at),
            None => _ = self.going.insert(reading.instrument.clone(), (reading.round, at)),
        }
    }

    /// True for what ends every round: the wing or the jig is not as it was.
    pub(crate) const fn ends(what: &What) -> bool {
        matches!(what, What::Stage(_) | What::Move(_))
    }

    /// The round of a reading that comes next, at a time by the clock of the computer.
    pub(crate) fn next(&self, instrument: Option<&str>, at: At) -> u32 {
        self.going(instrument, at).unwrap_or_else(|| self.new_round())
    }

    pub(crate) const fn new_round(&self) -> u32 {
        self.last.saturating_add(1)
    }

    /// The same, at a time that a table gives: four hours before the last one it is of another walk.
    pub(crate) fn next_of_table(&self, instrument: Option<&str>, at: At) -> u32 {
        let walk = |(_, last): &(u32, At)| last.millis().saturating_sub(at.millis()) <= PAUSE_MILLIS;
        let one = self.last_of(instrument).is_none_or(walk);
        if one { self.next(instrument, at) } else { self.new_round() }
    }

    /// The round under way with that instrument, if one is. A clock that went back makes no pause.
    pub(crate) fn going(&self, instrument: Option<&str>, at: At) -> Option<u32> {
        let (round, last) = self.last_of(instrument)?;
        (at.millis().saturating_sub(last.millis()) <= PAUSE_MILLIS).then_some(*round)
    }

    /// The last reading with that instrument: its round and time.
    fn last_of(&self, instrument: Option<&str>) -> Option<&(u32, At)> {
        self.going.get(&instrument.map(str::to_owned))
    }
}
