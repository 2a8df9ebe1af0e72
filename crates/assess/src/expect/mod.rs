//! What a point should show, and whether a value must be questioned before it is recorded.
//!
//! A value that no wing has is far more often a slip than a wing: the wrong point, a wrong sign, the previous
//! station. Every way of entering values (typed, table, port, window) asks the same question by the same rule, and a
//! person who means the value gives it again; the entry then records what was expected. Nothing is refused here:
//! values beyond the instrument's range, or not numbers, are refused by [`impossible`], sure or not.
//!
//! The thresholds are common practice, no source; they were tried by simulation (`tests/assess/asked.rs`): at most
//! one question in two hundred good readings.

mod impossible;
mod moves;
mod neighbours;
mod pair;
mod part;
mod question;
mod repeats;
mod rigging;
mod said;
mod shows;
mod spot;
mod step;
mod when;
mod words;
mod work;

pub use impossible::{Impossible, impossible};
pub use moves::move_question;
pub use question::{Question, temperature_question};
pub use step::{Resolution, resolution};
pub use when::Done;
pub use words::{Say, place};
pub use work::{Clock, Step, Work};

use neighbours::Neighbours;
use pair::Zeros;
use record::plan::Plan;
use record::{Instrument, Reading};
use repeats::Repeats;

/// What the display should show.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shows {
    /// The value expected on the display, in the base unit.
    pub value: f64,
    /// How far a value may be from it without a question.
    pub allow: f64,
}

/// One round with one instrument in progress: what its next reading should show.
///
/// Push only readings that count, oldest first, all of one round; start a new value for a new round.
#[derive(Clone, Debug)]
pub struct Round<'p> {
    plan: &'p Plan,
    neighbours: Neighbours,
    zeros: Zeros,
    repeats: Repeats,
}

impl<'p> Round<'p> {
    /// A round without readings.
    pub fn new(plan: &'p Plan) -> Self {
        Self { plan, neighbours: Neighbours::default(), zeros: Zeros::default(), repeats: Repeats::default() }
    }

    /// Takes a reading of the round into account. A reading that was questioned and kept says nothing about the next.
    pub fn push(&mut self, reading: &Reading) {
        if reading.asked.is_some() || !reading.value.is_finite() {
            return;
        }
        if let Some(opposite) = self.neighbours.opposite(&reading.point, reading.facing) {
            self.zeros.push((reading.value + opposite) / 2.0);
        }
        self.repeats.push(reading);
        self.neighbours.push(self.plan, reading);
    }

    /// The question to ask about a reading, if any; if several things are odd, the most serious.
    #[must_use]
    pub fn question(&self, reading: &Reading, instrument: Option<&Instrument>) -> Option<Question> {
        let say = Say::of(reading.quantity, instrument, self.plan.units);
        let far = || self.far(reading, instrument, say);
        let spot = || spot::question(self.plan, reading, say);
        let rig = || rigging::question(self.plan, reading, say);
        let part = || part::question(self.plan, &self.neighbours, reading, say);
        let pair = || {
            let opposite = self.neighbours.opposite(&reading.point, reading.facing)?;
            self.zeros.question(reading, opposite, instrument.and_then(|i| i.repeatability), say)
        };
        let again = || self.repeats.question(self.plan, reading, say);
        let warm = || reading.temperature.and_then(|part| temperature_question(part, self.plan.shown_in));
        far().or_else(spot).or_else(rig).or_else(part).or_else(pair).or_else(again).or_else(warm)
    }

    /// A value further from the expected one than allowed.
    fn far(&self, reading: &Reading, instrument: Option<&Instrument>, say: Say) -> Option<Question> {
        let shows = self.shows(&reading.point, reading.facing, instrument);
        let Shows { value: shows, allow } = shows.or_else(|| shows::of_any_wing(&reading.point))?;
        let (value, point, facing) = (reading.value, reading.point.clone(), reading.facing);
        ((value - shows).abs() > allow).then_some(Question::Far { value, shows, point, facing, say })
    }
}
