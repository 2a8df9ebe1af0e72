//! The same value at three stations running, where the design is not the same: the display was held, or not read again.

use super::Question;
use super::words::{Say, place};
use record::plan::Plan;
use record::point::Design;
use record::{Facing, Instrument, Point, Reading};

/// The last values of each facing at different stations.
#[derive(Clone, Debug, Default)]
pub struct Repeats {
    forward: [Option<Last>; 2],
    aft: [Option<Last>; 2],
}

#[derive(Clone, Debug)]
struct Last {
    point: Point,
    value: f64,
}

/// Steps of the display by which the design must differ over the three stations.
const STEPS: f64 = 4.0;

impl Repeats {
    /// Takes a reading in.
    pub fn push(&mut self, reading: &Reading) {
        if !of_design(&reading.point) {
            return;
        }
        let last = match reading.facing {
            None | Some(Facing::Forward) => &mut self.forward,
            Some(Facing::Aft) => &mut self.aft,
        };
        if let Some(newest) = last[1].as_mut().filter(|newest| newest.point == reading.point) {
            newest.value = reading.value;
            return;
        }
        last.rotate_left(1);
        last[1] = Some(Last { point: reading.point.clone(), value: reading.value });
    }

    /// A third equal value in a row.
    pub fn question(
        &self,
        plan: &Plan,
        reading: &Reading,
        instrument: Option<&Instrument>,
    ) -> Option<Question> {
        let [Some(first), Some(second)] = (match reading.facing? {
            Facing::Forward => &self.forward,
            Facing::Aft => &self.aft,
        }) else {
            return None;
        };
        // What comes from a port is never equal to the last digit unless it is stuck.
        let same = |last: &Last| (last.value - reading.value).abs() < 1e-9 && last.point != reading.point;
        if !of_design(&reading.point) || !same(first) || !same(second) {
            return None;
        }
        let design = |point: &Point| Some(plan.design_of(point)? + plan.fixture_of(point));
        let (a, b, c) = (design(&first.point)?, design(&second.point)?, design(&reading.point)?);
        let (least, most) = (a.min(b).min(c), a.max(b).max(c));
        if most - least < STEPS * reading.resolution {
            return None;
        }
        let say = Say::of(reading.quantity, instrument, plan.units);
        let expected = say.about(reading.facing?.sign() * c);
        let why = format!(
            "{} is the third equal value running ({}, {}, {}), where the design differs by {}",
            say.value(reading.value),
            first.point.place(),
            second.point.place(),
            place(&reading.point, reading.facing),
            say.size(most - least)
        );
        Some(Question { expected, why })
    }
}

/// True where the plan says what the angle of the section should be.
fn of_design(point: &Point) -> bool {
    point.kind().row().design == Design::Incidence
}
