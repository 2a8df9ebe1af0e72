//! Invented content for logs, of no real wing.

use quantity::Kind;
use record::{At, Facing, Reading, What};

/// The plan the journal's own stories start from; the journal never looks inside.
pub const PLAN: &str = "# an invented plan\n";

/// A moment, `n` seconds after an invented start.
#[must_use]
pub const fn moment(n: u64) -> At {
    At::from_millis(1_900_000_000_000 + n.cast_signed() * 1000)
}

/// The `n`th of a run of invented incidence readings; the same `n` always gives the same reading.
///
/// # Panics
/// Never: the points are well formed.
#[must_use]
pub fn reading(n: u64) -> What {
    let hundredths = i32::try_from(n.wrapping_mul(7919) % 600).unwrap_or(0) - 300;
    let value = f64::from(hundredths) / 100.0;
    What::Reading(Reading {
        text: format!("{value:.2}"),
        facing: Some(if n.is_multiple_of(2) { Facing::Forward } else { Facing::Aft }),
        instrument: Some("level-1".to_owned()),
        round: u32::try_from(n / 28 + 1).unwrap_or(u32::MAX),
        ..Reading::of(
            format!("incidence@S{}", n % 14 + 1).parse().expect("a point"),
            Kind::Angle,
            value,
            0.01,
        )
    })
}
