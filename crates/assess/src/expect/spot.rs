//! Spot checks, by their limits.

use super::Question;
use super::words::Say;
use quantity::Kind;
use record::plan::Plan;
use record::point::Judgement;
use record::{Limits, Reading};

/// With a single limit, how many times beyond it a value may be.
const TIMES: f64 = 4.0;
/// How many times its lower limit a value may be if it has no upper limit.
const FAR: f64 = 100.0;

/// A spot check so far from its limits that it is a slip: beyond them by more than they are apart, or by a multiple
/// of a single limit, or below zero where that is impossible.
pub fn question(plan: &Plan, reading: &Reading, say: Say) -> Option<Question> {
    if reading.point.kind().row().judgement != Judgement::OwnLimits {
        return None;
    }
    far(reading.quantity, reading.value, plan.spot(reading.point.place())?.limits, say)
}

/// A value far from its limits; without limits, a size that no spot has, and a torque or force below zero.
pub(super) fn far(quantity: Kind, value: f64, limits: Option<Limits<f64>>, say: Say) -> Option<Question> {
    let Some(limits) = limits else {
        return match quantity {
            Kind::Torque | Kind::Force if value < 0.0 => Some(Question::BelowNothing { value, say }),
            Kind::Length if value.abs() > 1000.0 => Some(Question::NoSize { value, say }),
            _ => None,
        };
    };
    let below_zero = matches!(quantity, Kind::Length | Kind::Torque | Kind::Force) && value < 0.0;
    if below_zero && limits.lower.is_none_or(|l| l >= 0.0) && limits.upper.is_none_or(|u| u >= 0.0) {
        return Some(Question::BelowZero { value, limits, say });
    }
    let (least, most) = match limits {
        Limits { lower: Some(l), upper: Some(u) } => (l - (u - l), u + (u - l)),
        Limits { lower: None, upper: Some(u) } => (f64::NEG_INFINITY, u + (TIMES - 1.0) * u.abs().max(0.25)),
        Limits { lower: Some(l), upper: None } => {
            let least = if l > 0.0 { l / TIMES } else { l - (TIMES - 1.0) * l.abs().max(0.25) };
            (least, (FAR * l).max(10.0))
        }
        Limits { lower: None, upper: None } => return None,
    };
    (!(least..=most).contains(&value)).then_some(Question::FarFromLimits { value, limits, say })
}
