//! Temperatures of a part in a shop.

use super::Question;
use quantity::{Celsius, Kind, Unit, Units};

/// Coldest and warmest part measured without a question, in °C: a shed in winter, a tent in summer.
const USUAL: (f64, f64) = (-15.0, 45.0);

/// The question about a temperature that no shop has: usually one in the other scale, typed without its unit.
#[must_use]
pub fn temperature_question(part: Celsius, units: Units) -> Option<Question> {
    let value = part.value();
    if (USUAL.0..=USUAL.1).contains(&value) {
        return None;
    }
    let scale = units.scale(Kind::Temperature);
    let expected = format!("{} to {}", scale.exact(USUAL.0), scale.exact_with(USUAL.1));
    let other = match scale.unit() {
        Unit::Fahrenheit => "degrees Celsius are typed as 21 °C",
        _ => "degrees Fahrenheit are typed as 70 °F",
    };
    let why =
        format!("{} is an unusual temperature for a part ({expected}); {other}", scale.exact_with(value));
    Some(Question { expected, why })
}
