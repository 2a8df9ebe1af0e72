//! Which round a reading belongs to.

use bench::PAUSE_MS;
use record::{At, Entry, Plan, Reading, What};
use std::collections::BTreeMap;

/// How many entries before the next one belong to the work in progress, at most: a thousand, or four walks of a long
/// wing. It is the same for every way of entering values, so that the cost of a reading depends on the work and not
/// on the log.
pub(crate) fn reach(plan: &Plan) -> u64 {
    1000.max(4 * plan.stations.len() as u64)
}

/// The entries that belong to the work in progress.
pub(crate) fn under_way<'e>(plan: &Plan, entries: &'e [Entry]) -> &'e [Entry] {
    let last = entries.last().map_or(0, |e| e.seq);
    let from = entries.partition_point(|e| e.seq + reach(plan) <= last);
    entries.get(from..).unwrap_or_default()
}

/// The rounds in progress.
///
/// A round is one walk with one set-up of one instrument. It continues until a stage begins, a support is moved, its
/// instrument rests for more than four hours or for as many entries as [`reach`], or a new round is requested.
#[derive(Clone, Debug, Default)]
pub(crate) struct Rounds {
    last: u32,
    going: BTreeMap<Option<String>, (u32, At)>,
}

impl Rounds {
    /// From the entries of the work in progress; `last` is the highest round of the log.
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

    /// Whether this ends every round: the wing or the jig changed.
    pub(crate) const fn ends(what: &What) -> bool {
        matches!(what, What::Stage(_) | What::Move(_))
    }

    /// The round of the next reading, at a time by the computer's clock.
    pub(crate) fn next(&self, instrument: Option<&str>, at: At) -> u32 {
        self.going(instrument, at).unwrap_or_else(|| self.new_round())
    }

    pub(crate) const fn new_round(&self) -> u32 {
        self.last.saturating_add(1)
    }

    /// The same, at a time given by a table: four hours before the last one, it belongs to another walk.
    pub(crate) fn next_of_table(&self, instrument: Option<&str>, at: At) -> u32 {
        let walk = |(_, last): &(u32, At)| last.millis().saturating_sub(at.millis()) <= PAUSE_MS;
        let one = self.last_of(instrument).is_none_or(walk);
        if one { self.next(instrument, at) } else { self.new_round() }
    }

    /// The round in progress with that instrument, if any. A clock that went back does not make a pause.
    pub(crate) fn going(&self, instrument: Option<&str>, at: At) -> Option<u32> {
        let (round, last) = self.last_of(instrument)?;
        (at.millis().saturating_sub(last.millis()) <= PAUSE_MS).then_some(*round)
    }

    /// The last reading with that instrument: its round and time.
    fn last_of(&self, instrument: Option<&str>) -> Option<&(u32, At)> {
        self.going.get(&instrument.map(str::to_owned))
    }
}
