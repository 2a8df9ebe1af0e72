//! The zero of an instrument, from the reversal pairs of its present set-up.

use crate::Log;
use record::{Entry, Instrument, Reading, What, Withdrawn};

/// An instrument that rested longer than this was set up again, and its next reading is of another round: four hours, in milliseconds.
pub const PAUSE_MS: i64 = 4 * 3600 * 1000;

/// What is known about an instrument's zero.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Zero {
    /// No pair in this set-up: it is unknown.
    #[default]
    Unknown,
    Known {
        /// What the instrument shows where it should show 0.
        value: f64,
        u: f64,
        pairs: u32,
    },
}

impl Zero {
    pub const fn known(&self) -> Option<f64> {
        if let Self::Known { value, .. } = self { Some(*value) } else { None }
    }

    /// From the log: the pairs since the instrument was last set up. A set-up continues through moves and stages; it
    /// ends where a round of the instrument begins without either, and after a pause of four hours.
    pub fn of(log: &Log<'_>, instrument: &Instrument) -> Self {
        let mut setup = Setup::default();
        let withdrawn = Withdrawn::of(log.entries);
        for entry in log.entries {
            match &entry.what {
                What::Move(_) | What::Stage { .. } => setup.carries_on = true,
                What::Reading(reading) if reading.instrument.as_deref() == Some(&instrument.name) => {
                    setup.saw(entry, reading, withdrawn.contains(entry.seq));
                }
                _ => {}
            }
        }
        if setup.last_ms.is_none_or(|last| log.now.millis() - last > PAUSE_MS) {
            return Self::Unknown;
        }
        setup.zero(instrument)
    }
}

#[derive(Debug, Default)]
struct Setup<'a> {
    round: u32,
    last_ms: Option<i64>,
    /// Whether a move or a stage began the next round.
    carries_on: bool,
    waiting: Vec<&'a Reading>,
    pairs: Vec<Pair>,
}

#[derive(Debug)]
struct Pair {
    zero: f64,
    step: f64,
}

impl<'a> Setup<'a> {
    fn saw(&mut self, entry: &Entry, reading: &'a Reading, withdrawn: bool) {
        let at_ms = entry.at.millis();
        let rested = self.last_ms.is_some_and(|last| at_ms - last > PAUSE_MS);
        if rested || (reading.round != self.round && !self.carries_on) {
            self.pairs.clear();
            self.waiting.clear();
        }
        (self.round, self.last_ms, self.carries_on) = (reading.round, Some(at_ms), false);
        let Some(facing) = reading.facing.filter(|_| !withdrawn) else { return };
        let is_other = |first: &&Reading| {
            first.point == reading.point
                && first.round == reading.round
                && first.facing == Some(facing.turned())
        };
        match self.waiting.iter().position(is_other).map(|at| self.waiting.swap_remove(at)) {
            Some(first) => self.pairs.push(Pair {
                zero: (first.value + reading.value) / 2.0,
                step: first.resolution.max(reading.resolution),
            }),
            None => self.waiting.push(reading),
        }
    }

    fn zero(&self, instrument: &Instrument) -> Zero {
        let Ok(pairs @ 1..) = u32::try_from(self.pairs.len()) else { return Zero::Unknown };
        let count = f64::from(pairs);
        let seating = instrument.repeatability.unwrap_or(0.0);
        let of_one = |step: f64| (step * step / 12.0 + seating * seating) / 2.0;
        let variance = self.pairs.iter().map(|pair| of_one(pair.step)).sum::<f64>() / (count * count);
        let value = self.pairs.iter().map(|pair| pair.zero).sum::<f64>() / count;
        Zero::Known { value, u: variance.sqrt(), pairs }
    }
}
