//! The rigged aeroplane, by its plan. The thresholds are common practice, no source.

use super::Question;
use super::Shows;
use super::spot;
use super::words::Say;
use quantity::Kind;
use record::plan::Plan;
use record::point::Judgement;
use record::{Facing, Point, Reading};

/// Allowed difference from the design, in degrees, for a fuselage not yet level and for an angle read on it.
const ANGLE: f64 = 5.0;
/// Allowed difference between the two readings of a pair, after reversal, in degrees.
const PAIR: f64 = 1.0;
/// Allowed deviation of a distance between marks, as a share of it, or [`LENGTH`] if that is more.
const SHARE: f64 = 0.01;
/// The same in mm.
const LENGTH: f64 = 25.0;
/// Allowed difference of a control from where it should be, in degrees.
const CONTROL: f64 = 20.0;

/// The reading of a pair that was taken before.
#[derive(Clone, Copy, Debug)]
pub struct Half {
    /// What the level showed.
    pub value: f64,
    /// The zero shown by the round.
    pub zero: Option<f64>,
    /// The limit of the zero if the round has shown none.
    pub accuracy: f64,
}

/// What an angle or a distance should show with the fuselage level; the second reading of a pair is expected from the
/// first, which the fuselage tilts alike.
pub fn shows(plan: &Plan, point: &Point, facing: Option<Facing>, half: Option<Half>) -> Option<Shows> {
    if let Some(Half { value, zero, accuracy }) = half {
        let unknown = if zero.is_some() { 0.0 } else { 2.0 * accuracy };
        return Some(Shows { value: 2.0 * zero.unwrap_or(0.0) - value, allow: PAIR + unknown });
    }
    let design = plan.design_of(point)?;
    let sign = facing.map_or(1.0, Facing::sign);
    let allow = match (plan.quantity_of(point)?, plan.rigging.raised_over(point)) {
        (_, Some(base)) => base * libm::sin(ANGLE.to_radians()),
        (Kind::Length, None) => (SHARE * design.abs()).max(LENGTH),
        _ => ANGLE,
    };
    Some(Shows { value: sign * design, allow })
}

/// The question about a travel, a play, a tension or a torque so far from the plan that it is a slip.
pub fn question(plan: &Plan, reading: &Reading, say: Say) -> Option<Question> {
    let point = &reading.point;
    if point.kind().row().judgement != Judgement::Rigging || plan.design_of(point).is_some() {
        return None;
    }
    let limits = plan.rigging.limits_of(point);
    if limits.is_some() || reading.quantity != Kind::Angle {
        return spot::far(reading.quantity, reading.value, limits, say);
    }
    let shows = plan.rigging.level_shows(point)?;
    let value = reading.value;
    ((value - shows).abs() > CONTROL).then(|| Question::FarTravel { value, shows, point: point.clone(), say })
}
