//! What every way of entering values refuses, even if the person is sure.

use super::words::Say;
use crate::sound::coarsest;
use quantity::{Kind, Units, possible, possible_words};
use record::{Instrument, Limits};

/// Why a value cannot be recorded at all.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Impossible {
    /// It is infinite or not a number.
    #[error("the value is not a finite number")]
    NotFinite,
    /// It is beyond anything measured on a wing.
    #[error("the value is beyond any {} of a wing, {}", .0.word(), possible_words(*.0))]
    BeyondLimits(Kind),
    /// It is beyond the instrument's range.
    #[error("{} is beyond the range of `{instrument}`, {} to {}",
        .say.value(*.value), end(*.say, .range.lower), end(*.say, .range.upper))]
    BeyondRange { instrument: String, value: f64, range: Limits<f64>, say: Say },
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
    let say = Say::of(kind, Some(instrument), Units::INSIDE);
    (!inside).then(|| Impossible::BeyondRange { instrument: instrument.name.clone(), value, range, say })
}

fn end(say: Say, limit: Option<f64>) -> String {
    limit.map_or_else(|| "any".to_owned(), |l| say.value(l))
}
