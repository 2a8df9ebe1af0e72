//! The step of a typed value.
//!
//! A value that is a multiple of the instrument's step has that step as its resolution, however many zeros were typed
//! (spreadsheets drop zeros; `14 in` on a tape marked in 1/32 has the tape's step). A value between the steps is
//! questioned. A coarser reading is declared.

use super::Question;
use super::words::Say;
use quantity::{Typed, Unit, Units};
use record::Instrument;

/// How close to a multiple of the step a value must be, in steps: conversions round.
const HAIR: f64 = 1e-3;

/// The step of a typed value.
#[derive(Clone, Debug, PartialEq)]
pub struct Resolution {
    /// In the base unit.
    pub step: f64,
    /// If the value is between the display's steps.
    pub off: Option<Question>,
}

/// The step of a typed value; `read_to` is a coarser step declared by the person.
pub fn resolution(typed: &Typed, instrument: Option<&Instrument>, read_to: Option<f64>) -> Resolution {
    let on = |step| Resolution { step, off: None };
    let Some(instrument) = instrument else {
        let read_to = read_to.unwrap_or(typed.resolution);
        return on(if read_to > 0.0 { typed.resolution.max(read_to) } else { read_to });
    };
    let step = instrument.resolution;
    match read_to {
        // A step of zero or less is refused elsewhere.
        Some(none) if none <= 0.0 => return on(none),
        Some(coarser) if coarser >= step => return on(coarser),
        // A step finer than the display's explains nothing.
        Some(_) | None => {}
    }
    let kind = typed.amount.kind();
    let unit = instrument.bare_unit(kind);
    // A slope on a display of degrees, or the reverse: read in another mode, so only the typed digits are known.
    let other_mode = typed.unit.is_slope() != unit.is_some_and(Unit::is_slope);
    if other_mode {
        return on(step.max(typed.resolution));
    }
    let value = typed.amount.base();
    let steps = match unit {
        // Count steps in the display's unit: a slope is not proportional to its angle.
        Some(unit) => unit.from_base(value) / unit.from_base(step),
        None => value / step,
    };
    let off = (steps - libm::round(steps)).abs();
    // Typed in another unit than the display's, it can be a rounded step: allow half of the last digit typed.
    let display = unit.map_or(kind.base_symbol(), Unit::symbol);
    let rounded = if typed.unit.symbol() == display { 0.0 } else { typed.resolution / 2.0 / step };
    if off <= (HAIR + rounded).min(0.5) {
        return on(step);
    }
    let say = Say::of(kind, Some(instrument), Units::INSIDE);
    let instrument = instrument.name.clone();
    Resolution { step, off: Some(Question::OffStep { value, step, instrument, say }) }
}
