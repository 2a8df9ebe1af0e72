//! Readings that give no value, whatever else is known.

use crate::history::Used;
use quantity::typed::possible as possible_value;
use quantity::{Kind, Units, typed_or_in};
use record::plan::Plan;
use record::point::Sign;
use record::{Instrument, NoForce, Point, Reading};

/// The coarsest display, in the base unit, that still says something about a wing.
const COARSEST_DEG: f64 = 5.0;
const COARSEST_MM: f64 = 50.0;
const COARSEST_NM: f64 = 50.0;
const COARSEST_N: f64 = 50.0;
/// Steepest angle measured on a wing in its jig.
const STEEPEST_DEG: f64 = 90.0;

/// By how much a number may be rounded, relative to its size.
const ROUNDED: f64 = 1e-9;

/// Why the readings of a point give no value; `entry` is that of the reading.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Unusable {
    #[error("there is no reading")]
    NoReading,
    #[error("the plan has no such point")]
    NotInPlan,
    #[error("entry {entry} is of the wrong quantity: {}, not {}", .is.word(), .asked.word())]
    Quantity { entry: u64, is: Kind, asked: Kind },
    #[error("entry {entry} is a value that no wing has")]
    Value { entry: u64 },
    /// Only a log whose chain was made again, or a faulty program, holds such an entry.
    #[error("entry {entry} has another value than its text, and only one of them can be right")]
    Text { entry: u64 },
    /// It is not above zero, not finite, or coarser than any display.
    #[error("the step of entry {entry} is not that of any display")]
    Step { entry: u64 },
    /// It is negative, not finite, or larger than that of any display.
    #[error("the scatter of entry {entry} is not that of any instrument")]
    Scatter { entry: u64 },
    #[error("the temperature of entry {entry} is impossible for a part")]
    Temperature { entry: u64 },
    #[error("the data entered for {instrument} are impossible")]
    Facts { instrument: String },
    #[error("entry {entry}: {why}")]
    Dial {
        entry: u64,
        #[source]
        why: NoDial,
    },
    #[error("entry {entry}: {why}")]
    Tape {
        entry: u64,
        #[source]
        why: TapeFault,
    },
    #[error("its figures are too large to compute with")]
    NotFinite,
}

/// Why a dial reading gives no force.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoDial {
    #[error("it is not a dial reading with a table")]
    NoTable,
    #[error(transparent)]
    NoForce(#[from] NoForce),
}

/// What is missing or impossible about a tape that the plan says is pulled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TapeFault {
    #[error("the plan says how it was pulled, but the tape's own pull is unknown")]
    NoPull,
    #[error("the tape's section and modulus are unknown, and so is its stretch")]
    NoStretch,
    #[error("the tape's mass is unknown, and so is its sag")]
    NoMass,
    #[error("the tape would be off by more than a hundredth: check its pull, mass and section")]
    TooMuch,
}

/// The first thing wrong with the readings of a point; `None` if they give a value.
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
    if !of_its_text(r, used.facts.as_deref()) {
        return Some(Unusable::Text { entry });
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

/// Whether the value of a reading is what its text says. Samples from a port are averaged in the digits that the instrument sends.
fn of_its_text(r: &Reading, facts: Option<&Instrument>) -> bool {
    let shown = r.dial.as_ref().map_or(r.value, |dial| dial.shown);
    let said = match r.dial {
        Some(_) => r.text.parse().ok(),
        None => {
            let bare = Instrument::bare_unit_of(facts, r.quantity, Units::INSIDE);
            typed_or_in(&r.text, r.quantity, bare).ok().map(|typed| typed.amount.base())
        }
    };
    let averaged = r.samples.map_or(0.0, |_| r.resolution / 2.0);
    said.is_some_and(|said| (said - shown).abs() <= averaged + ROUNDED * (1.0 + shown.abs()))
}

/// Whether a wing can have this value at this point, in the base unit.
pub fn possible(point: &Point, kind: Kind, value: f64) -> bool {
    let sign = match (point.kind().row().sign, kind) {
        (Sign::Positive, _) => value > 0.0,
        (Sign::Either, Kind::Torque | Kind::Force) => value >= 0.0,
        (Sign::Either, Kind::Angle) => value.abs() <= STEEPEST_DEG,
        (Sign::Either, Kind::Length | Kind::Temperature) => true,
    };
    sign && possible_value(kind, value)
}

/// The coarsest step of a display, in the base unit, that still gives a value.
pub const fn coarsest(kind: Kind) -> f64 {
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
