//! The same value at three consecutive stations where the design differs: the display was on hold, or was not read
//! again.

use super::Question;
use super::words::Say;
use record::plan::Plan;
use record::point::Design;
use record::{Facing, Point, Reading};

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

/// The design must differ by this many steps of the display over the three stations.
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

    /// The question about a third equal value in a row.
    pub fn question(&self, plan: &Plan, reading: &Reading, say: Say) -> Option<Question> {
        let facing = reading.facing?;
        let [Some(first), Some(second)] = (match facing {
            Facing::Forward => &self.forward,
            Facing::Aft => &self.aft,
        }) else {
            return None;
        };
        // A port value is never equal to the last digit unless the instrument is stuck.
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
        Some(Question::Repeated {
            value: reading.value,
            first: first.point.place().to_owned(),
            second: second.point.place().to_owned(),
            point: reading.point.clone(),
            facing,
            differs: most - least,
            shows: facing.sign() * c,
            say,
        })
    }
}

/// Whether the plan gives the angle of the section.
fn of_design(point: &Point) -> bool {
    point.kind().row().design == Design::Incidence
}
