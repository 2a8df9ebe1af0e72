//! Temperatures of a part in a shop.

use super::Question;
use super::said::USUAL;
use quantity::{Celsius, Kind, Units};

/// The question about a temperature that no shop has: usually one in the other scale, typed without its unit.
#[must_use]
pub fn temperature_question(part: Celsius, units: Units) -> Option<Question> {
    if (USUAL.0..=USUAL.1).contains(&part.value()) {
        return None;
    }
    Some(Question::Temperature { part, scale: units.scale(Kind::Temperature) })
}
