//! What a point should show, and whether a value must be asked about before it is recorded.
//!
//! A value that no wing has is a slip far more often than a wing: a point in the wrong place, a sign, the station before.
//! Every way in (typed, table, port, window) asks the same question by the same rule, and a person who means the value gives
//! it again on purpose; the entry then says what was expected. Nothing here refuses: what is beyond the instrument's range
//! or no number at all is refused by [`impossible`], sure or not.
//!
//! The thresholds are common practice, no source; they were tried by simulation (`tests/assess/asked.rs`): at most one question in
//! two hundred good readings.

mod impossible;
mod moves;
mod neighbours;
mod pair;
mod part;
mod question;
mod range;
mod repeats;
mod rigging;
mod shows;
mod spot;
mod step;
mod temperature;
mod when;
mod words;

pub use impossible::{Impossible, impossible};
pub use moves::move_question;
pub use question::Question;
pub use range::Shows;
pub use step::{OffStep, Resolution, resolution};
pub use temperature::temperature_question;
pub use when::Done;
pub use words::{Say, place};

use neighbours::Neighbours;
use pair::Zeros;
use record::plan::Plan;
use record::{Facing, Instrument, Point, Reading};
use repeats::Repeats;

/// One round with one instrument as it goes on: what its next reading should show.
///
/// Only readings that count are pushed, oldest first, all of one round; a round that begins anew is a new value of this.
#[derive(Clone, Debug)]
pub struct Round<'p> {
    plan: &'p Plan,
    neighbours: Neighbours,
    zeros: Zeros,
    repeats: Repeats,
}

impl<'p> Round<'p> {
    /// A round without readings.
    #[must_use]
    pub fn new(plan: &'p Plan) -> Self {
        Self { plan, neighbours: Neighbours::default(), zeros: Zeros::default(), repeats: Repeats::default() }
    }

    /// Takes a reading of the round into account. One that was asked about and kept tells nothing of the next.
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

    /// What the instrument should show at a point, facing that way; `None` where nothing follows from plan and round.
    #[must_use]
    pub fn shows(
        &self,
        point: &Point,
        facing: Option<Facing>,
        instrument: Option<&Instrument>,
    ) -> Option<Shows> {
        shows::shows(self.plan, &self.neighbours, &self.zeros, point, facing, instrument)
    }

    /// Whether a reading must be asked about; where several things are odd, the weightiest.
    #[must_use]
    pub fn question(&self, reading: &Reading, instrument: Option<&Instrument>) -> Option<Question> {
        let far = || self.far(reading, instrument);
        let spot = || spot::question(self.plan, reading, instrument);
        let rig = || rigging::question(self.plan, reading, instrument);
        let part = || part::question(self.plan, &self.neighbours, reading, instrument);
        let pair = || {
            let opposite = self.neighbours.opposite(&reading.point, reading.facing)?;
            self.zeros.question(reading, opposite, instrument, self.plan.units)
        };
        let again = || self.repeats.question(self.plan, reading, instrument);
        let warm = || reading.temperature.and_then(|part| temperature_question(part, self.plan.shown_in));
        far().or_else(spot).or_else(rig).or_else(part).or_else(pair).or_else(again).or_else(warm)
    }

    /// A value further from what is expected than it may be.
    fn far(&self, reading: &Reading, instrument: Option<&Instrument>) -> Option<Question> {
        let shows = self.shows(&reading.point, reading.facing, instrument);
        let shows = shows.or_else(|| shows::of_any_wing(&reading.point))?;
        let off = (reading.value - shows.value).abs();
        if off <= shows.allow {
            return None;
        }
        let say = words::Say::of(reading.quantity, instrument, self.plan.units);
        let expected = say.about(shows.value);
        let why = format!(
            "{} is {} from what {} should show ({expected})",
            say.value(reading.value),
            say.size(off),
            words::place(&reading.point, reading.facing)
        );
        Some(Question { expected, why })
    }
}
