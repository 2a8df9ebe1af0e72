//! The rigged aeroplane, by its plan. The thresholds are common practice, no source.

use super::Question;
use super::range::Shows;
use super::spot;
use super::words::Say;
use quantity::Kind;
use record::plan::Plan;
use record::point::Judgement;
use record::{Facing, Instrument, Point, Reading};

/// A fuselage that is not levelled yet, and an angle read on it, may be this far from the design, in degrees.
const ANGLE: f64 = 5.0;
/// A distance between marks may be this share of itself off, or [`LENGTH`] where that is more.
const SHARE: f64 = 0.01;
/// The same in mm.
const LENGTH: f64 = 25.0;
/// A control may be this far from where it is wanted, in degrees.
const CONTROL: f64 = 20.0;

/// What an angle or a distance should show, with the fuselage level.
pub fn shows(plan: &Plan, point: &Point, facing: Option<Facing>) -> Option<Shows> {
    let design = plan.design_of(point)?;
    let sign = facing.map_or(1.0, Facing::sign);
    let allow = match plan.quantity_of(point)? {
        Kind::Length => (SHARE * design.abs()).max(LENGTH),
        _ => ANGLE,
    };
    Some(Shows { value: sign * design, allow })
}

/// A travel, a play, a tension or a torque so far from what the plan wants that it is a slip.
pub fn question(plan: &Plan, reading: &Reading, instrument: Option<&Instrument>) -> Option<Question> {
    let point = &reading.point;
    if point.kind().row().judgement != Judgement::Rigging || plan.design_of(point).is_some() {
        return None;
    }
    let say = Say::of(reading.quantity, instrument, plan.units);
    let limits = plan.rigging.limits_of(point);
    if limits.is_some() || reading.quantity != Kind::Angle {
        return spot::far(reading.quantity, reading.value, limits, say);
    }
    let shows = plan.rigging.level_shows(point)?;
    ((reading.value - shows).abs() > CONTROL).then(|| {
        let expected = say.about(shows);
        let why = format!(
            "{} is far from what {point} should show, trailing edge up ({expected})",
            say.value(reading.value)
        );
        Question { expected, why }
    })
}
