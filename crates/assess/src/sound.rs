//! Readings from which no value follows, whatever else is known.

use crate::history::Used;
use quantity::Kind;
use quantity::typed::possible as possible_value;
use record::plan::Plan;
use record::point::Sign;
use record::{Instrument, Point};
use std::fmt;

/// The coarsest display, in the unit used inside, that still says something of a wing.
const COARSEST_DEG: f64 = 5.0;
/// The same for lengths.
const COARSEST_MM: f64 = 50.0;
/// The same for torques.
const COARSEST_NM: f64 = 50.0;
/// The same for forces.
const COARSEST_N: f64 = 50.0;
/// Steepest angle of anything measured on a wing in its jig.
const STEEPEST_DEG: f64 = 90.0;

/// Why no value follows from the readings of a point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unusable {
    /// There is none.
    NoReading,
    /// The plan has no such point.
    NotInPlan,
    /// A reading is of another quantity than the point.
    Quantity {
        entry: u64,
        /// What it is.
        is: Kind,
        /// What the point asks for.
        asked: Kind,
    },
    /// A reading is a value that no wing has.
    Value { entry: u64 },
    /// A reading's step is not above zero, not finite, or coarser than any display.
    Step { entry: u64 },
    /// A reading's scatter is negative, not finite, or larger than any display's.
    Scatter { entry: u64 },
    /// A reading's temperature is not one of a part.
    Temperature { entry: u64 },
    /// What is known of an instrument cannot be so.
    Facts { instrument: String },
    /// A reading of a dial of which no force follows.
    Dial { entry: u64, why: String },
    /// A distance whose tape is not known well enough.
    Tape { entry: u64, why: String },
    /// The figures are too large to reckon with.
    NotFinite,
}

impl fmt::Display for Unusable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoReading => f.write_str("there is no reading"),
            Self::NotInPlan => f.write_str("the plan has no such point"),
            Self::Quantity { entry, is, asked } => {
                write!(f, "entry {entry} is of the wrong quantity: {}, not {}", is.word(), asked.word())
            }
            Self::Value { entry } => write!(f, "entry {entry} is a value that no wing has"),
            Self::Step { entry } => write!(f, "the step of entry {entry} is not one of a display"),
            Self::Scatter { entry } => write!(f, "the scatter of entry {entry} is not one of an instrument"),
            Self::Temperature { entry } => write!(f, "the temperature of entry {entry} is not one of a part"),
            Self::Facts { instrument } => write!(f, "what was entered of {instrument} cannot be so"),
            Self::Dial { entry, why } | Self::Tape { entry, why } => write!(f, "entry {entry}: {why}"),
            Self::NotFinite => f.write_str("its figures are too large to reckon with"),
        }
    }
}

/// The first thing wrong with the readings of a point; none where a value follows from them.
pub fn unusable(plan: &Plan, point: &Point, used: &[Used]) -> Option<Unusable> {
    let Some(asked) = plan.quantity_of(point) else { return Some(Unusable::NotInPlan) };
    used.iter().find_map(|u| of_reading(point, asked, u))
}

fn of_reading(point: &Point, asked: Kind, used: &Used) -> Option<Unusable> {
    let (r, entry) = (&used.reading, used.seq);
    if r.quantity != asked {
        return Some(Unusable::Quantity { entry, is: r.quantity, asked });
    }
    if !possible(point, asked, r.value) {
        return Some(Unusable::Value { entry });
    }
    if !(r.resolution > 0.0 && r.resolution <= coarsest(asked)) {
        return Some(Unusable::Step { entry });
    }
    if r.scatter.is_some_and(|s| !(0.0..=coarsest(asked)).contains(&s)) {
        return Some(Unusable::Scatter { entry });
    }
    if r.temperature.is_some_and(|t| !possible_value(Kind::Temperature, t.value())) {
        return Some(Unusable::Temperature { entry });
    }
    let facts = used.facts.as_deref().filter(|i| !believable(i, asked))?;
    Some(Unusable::Facts { instrument: facts.name.clone() })
}

/// True where a wing can have this value at this point, in the unit used inside.
#[must_use]
pub fn possible(point: &Point, kind: Kind, value: f64) -> bool {
    let sign = match (point.kind().row().sign, kind) {
        (Sign::Positive, _) => value > 0.0,
        (Sign::Either, Kind::Torque | Kind::Force) => value >= 0.0,
        (Sign::Either, Kind::Angle) => value.abs() <= STEEPEST_DEG,
        (Sign::Either, Kind::Length | Kind::Temperature) => true,
    };
    sign && possible_value(kind, value)
}

const fn coarsest(kind: Kind) -> f64 {
    match kind {
        Kind::Angle => COARSEST_DEG,
        Kind::Length => COARSEST_MM,
        Kind::Force => COARSEST_N,
        Kind::Torque | Kind::Temperature => COARSEST_NM,
    }
}

fn believable(i: &Instrument, kind: Kind) -> bool {
    let size = |v: Option<f64>| v.is_none_or(|v| (0.0..=coarsest(kind)).contains(&v));
    i.resolution > 0.0
        && i.resolution <= coarsest(kind)
        && size(i.accuracy)
        && size(i.repeatability)
        && i.scale.is_none_or(|s| (0.0..1.0).contains(&s))
        && i.expansion.is_none_or(|e| e.abs() < 1e-3)
}
