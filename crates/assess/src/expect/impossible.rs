//! What every way of entering values refuses, even if the person is sure.

use super::words::Say;
use crate::sound::coarsest;
use quantity::{Kind, Units, possible, possible_words};
use record::{Instrument, Limits};

/// Why a value cannot be recorded at all.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Impossible {
    /// It is infinite or not a number.
    #[error("the value is not a finite number")]
    NotFinite,
    /// It is beyond anything measured on a wing.
    #[error("the value is beyond any {} of a wing, {}", .0.word(), possible_words(*.0))]
    BeyondLimits(Kind),
    /// It is beyond the instrument's range.
    #[error("{value} is beyond the range of `{instrument}`, {range}")]
    BeyondRange {
        /// The instrument's name.
        instrument: String,
        /// The value as shown.
        value: String,
        /// The range as shown.
        range: String,
    },
    /// No display has such a step: the value would be useless.
    #[error("the step it was read to must be above zero, and at most {} {}", coarsest(*.0), .0.base_symbol())]
    Step(Kind),
}

/// Why a value (as displayed, in the base unit) cannot be recorded; `None` if it can.
#[must_use]
pub fn impossible(kind: Kind, value: f64, step: f64, instrument: Option<&Instrument>) -> Option<Impossible> {
    if !value.is_finite() {
        return Some(Impossible::NotFinite);
    }
    if !possible(kind, value) {
        return Some(Impossible::BeyondLimits(kind));
    }
    if !(step > 0.0 && step <= coarsest(kind)) {
        return Some(Impossible::Step(kind));
    }
    let instrument = instrument?;
    let range = instrument.range?;
    let Limits { lower, upper } = range;
    // A little slack: a range such as 3 ft-lb goes through a conversion.
    let slack = 1e-9 * (1.0 + value.abs());
    let inside = lower.is_none_or(|l| value >= l - slack) && upper.is_none_or(|u| value <= u + slack);
    (!inside).then(|| {
        let say = Say::of(kind, Some(instrument), Units::INSIDE);
        let end = |limit: Option<f64>| limit.map_or("any".to_owned(), |l| say.value(l));
        Impossible::BeyondRange {
            instrument: instrument.name.clone(),
            value: say.value(value),
            range: format!("{} to {}", end(lower), end(upper)),
        }
    })
}
