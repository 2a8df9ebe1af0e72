//! Temperatures of a part in a shop.

use super::Question;
use quantity::Celsius;
use quantity::shown::exact;

/// Coldest and warmest part that is measured without a question, in °C: a shed in winter, a tent in summer.
const USUAL: (f64, f64) = (-15.0, 45.0);

/// A temperature that no shop has: most often degrees Fahrenheit typed without their unit.
#[must_use]
pub fn temperature_question(part: Celsius) -> Option<Question> {
    let value = part.value();
    if (USUAL.0..=USUAL.1).contains(&value) {
        return None;
    }
    let expected = format!("{} to {} °C", USUAL.0, USUAL.1);
    let why = format!(
        "{} °C is no usual temperature of a part ({expected}); degrees Fahrenheit are typed as 70 °F",
        exact(value)
    );
    Some(Question { expected, why })
}
