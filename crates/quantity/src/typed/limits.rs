//! Values beyond these limits are typing slips, not measurements of a wing.

use crate::Kind;
use core::ops::RangeInclusive;

/// Largest angle in degrees, either sign.
const ANGLE_DEG: f64 = 360.0;
/// Largest length in millimetres, either sign.
const LENGTH_MM: f64 = 100_000.0;
/// Largest torque in newton metres, either sign.
const TORQUE_NM: f64 = 10_000.0;
/// Largest force in newtons, either sign.
const FORCE_N: f64 = 100_000.0;
/// Coldest and warmest temperature of a part, in °C.
const TEMPERATURE_C: RangeInclusive<f64> = -60.0..=80.0;

/// Whether a value in the base unit is possible on a wing: finite, and within 360°, 100 m, 10 kN·m, 100 kN and -60 to
/// 80 °C. Every way of entering values refuses anything else.
pub fn possible(kind: Kind, base: f64) -> bool {
    match kind {
        Kind::Angle => base.abs() <= ANGLE_DEG,
        Kind::Length => base.abs() <= LENGTH_MM,
        Kind::Torque => base.abs() <= TORQUE_NM,
        Kind::Force => base.abs() <= FORCE_N,
        Kind::Temperature => TEMPERATURE_C.contains(&base),
    }
}

/// These limits as text.
pub const fn possible_words(kind: Kind) -> &'static str {
    match kind {
        Kind::Angle => "-360° to 360°",
        Kind::Length => "-100 m to 100 m",
        Kind::Torque => "-10 000 N·m to 10 000 N·m",
        Kind::Force => "-100 000 N to 100 000 N",
        Kind::Temperature => "-60 °C to 80 °C",
    }
}
