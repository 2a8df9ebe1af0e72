//! How numbers are printed: by the one rule of [`quantity::shown`], with the 95 % half width beside each value.

use quantity::shown::{self, K95, fixed, percent};

/// Decimal places for a value of that standard uncertainty, and for its 95 % half width.
#[must_use]
pub fn decimals(u: Option<f64>) -> usize {
    shown::decimals(u.map_or(f64::NAN, |u| K95 * u))
}

/// The 95 % half width of that standard uncertainty; `?` where it is unknown, since nothing measured is certain.
#[must_use]
pub fn half(u: f64) -> String {
    if u.is_finite() && u > 0.0 { fixed(K95 * u, decimals(Some(u))) } else { "?".to_owned() }
}

/// A probability of conformity in percent.
#[must_use]
pub fn probability(p: f64) -> String {
    percent(p)
}

/// A significance: four places, and in powers of ten where that would print nothing but zeros.
#[must_use]
pub fn significance(p: f64) -> String {
    if p > 0.0 && p < 0.00005 { format!("{p:.1e}") } else { fixed(p, 4) }
}

/// Limits in one cell: `-0.35 to +0.2`, `±0.35`, `at most 1.5`, `none`.
pub(crate) fn limits(lower: Option<f64>, upper: Option<f64>) -> String {
    shown::limits(lower, upper).unwrap_or_else(|| "none".to_owned())
}
