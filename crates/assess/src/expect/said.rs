//! How questions say travels, limits and temperatures.

use super::words::Say;
use quantity::Unit;
use quantity::shown::Scale;
use record::Limits;
use record::plan::Travel;

/// Coldest and warmest part that is measured without a question, in °C: a shed in winter, a tent in summer.
pub const USUAL: (f64, f64) = (-15.0, 45.0);

/// The usual temperatures, `-15 to 45 °C`.
pub fn usual(scale: Scale) -> String {
    format!("{} to {}", scale.exact(USUAL.0), scale.exact_with(USUAL.1))
}

/// How a temperature of the other scale is typed.
pub const fn other_scale(scale: Scale) -> &'static str {
    match scale.unit() {
        Unit::Fahrenheit => "degrees Celsius are typed as 21 °C",
        _ => "degrees Fahrenheit are typed as 70 °F",
    }
}

/// The moves that are left of a travel, in mm.
pub struct Left {
    pub least: f64,
    pub most: f64,
}

impl Left {
    pub fn of(travel: Travel, so_far: f64) -> Self {
        Self { least: -travel.minus.value() - so_far, most: travel.plus.value() - so_far }
    }
}

/// What is left of a travel, `-1.00 to +3.00 mm`.
pub fn left(travel: Travel, so_far: f64, scale: Scale) -> String {
    let Left { least, most } = Left::of(travel, so_far);
    format!("{} to {}", scale.signed(least, scale.decimals(2)), scale.signed_with(most, 2))
}

/// What is said of the moves before.
pub fn used(so_far: f64, scale: Scale) -> String {
    if so_far == 0.0 {
        String::new()
    } else {
        format!(", of which {} are used", scale.signed_with(so_far, 2))
    }
}

/// The limits of a spot check, `5 to 8 N·m`.
pub fn within(say: Say, limits: Limits<f64>) -> String {
    match (limits.lower, limits.upper) {
        (Some(l), Some(u)) => format!("{} to {}", say.value(l), say.value(u)),
        (Some(l), None) => format!("at least {}", say.value(l)),
        (None, Some(u)) => format!("at most {}", say.value(u)),
        (None, None) => String::new(),
    }
}

/// What two spars make of a section: an angle in degrees, if any.
pub fn makes(angle: Option<f64>, design: f64, degrees: Scale) -> String {
    match angle.map(|angle| degrees.signed_with(angle, 1)) {
        Some(angle) => {
            format!(
                "makes the section {angle} nose up, where the design is {}",
                degrees.signed_with(design, 1)
            )
        }
        None => "is further from it than the spars are apart".to_owned(),
    }
}
