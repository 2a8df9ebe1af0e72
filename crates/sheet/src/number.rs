//! How numbers are printed.
//!
//! The rule, the same all over the sheet: a value with a standard uncertainty is printed to the place of the second
//! significant digit of that uncertainty (JCGM 100:2008, 7.2.6, asks for at most two), and in any case to the places
//! below, so that a value is never coarser than the display it came from. Both are rounded half to even of the binary
//! value, as Rust and Python format numbers.
//!
//! | unit | places at least |
//! |---|---|
//! | `deg`, `mm` | 3 |
//! | `N·m`, `°C` and any other | 2 |

/// Decimal places for a value in that unit with that standard uncertainty.
#[must_use]
pub fn decimals(unit: &str, u: Option<f64>) -> usize {
    let least = if matches!(unit, "deg" | "mm") { 3 } else { 2 };
    let second = u.filter(|u| u.is_finite() && *u > 0.0).map_or(0, |u| {
        // The exponent after rounding to two digits, so that 0.00996 counts as 0.010.
        let text = format!("{u:.1e}");
        let exponent = text.split('e').nth(1).and_then(|e| e.parse::<i32>().ok()).unwrap_or(0);
        usize::try_from(1 - exponent).unwrap_or(0)
    });
    second.clamp(least, 9)
}

/// The value with that many decimal places; never a negative zero. Beyond a thousand million in powers of ten.
#[must_use]
pub fn rounded(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return "not a number".to_owned();
    }
    if value.abs() >= 1e9 {
        return format!("{value:.3e}");
    }
    let text = format!("{value:.places$}");
    if text.starts_with('-') && !text.contains(|c: char| ('1'..='9').contains(&c)) {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

/// A given value (a design, a limit, a place along the span) as it was given, to at most four places, no trailing zeros.
#[must_use]
pub fn exact(value: f64) -> String {
    let text = rounded(value, 4);
    if text.contains('.') && !text.contains('e') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A probability: four places, and in powers of ten where that would print nothing but zeros.
#[must_use]
pub fn probability(p: f64) -> String {
    if p > 0.0 && p < 0.00005 { format!("{p:.1e}") } else { rounded(p, 4) }
}

/// The unit as it is printed.
pub(crate) fn unit_word(unit: &str) -> &str {
    if unit == "deg" { "°" } else { unit }
}

/// Limits in one cell: `-0.35 … 0.35`, `± 0.35`, `≤ 1.5`.
pub(crate) fn limits(lower: Option<f64>, upper: Option<f64>) -> String {
    match (lower, upper) {
        (Some(l), Some(u)) if l == -u && u != 0.0 => format!("± {}", exact(u)),
        (Some(l), Some(u)) => format!("{} … {}", exact(l), exact(u)),
        (Some(l), None) => format!("≥ {}", exact(l)),
        (None, Some(u)) => format!("≤ {}", exact(u)),
        (None, None) => "none".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_digits_of_u_and_no_coarser_than_the_display() {
        assert_eq!(decimals("deg", Some(0.412)), 3);
        assert_eq!(decimals("deg", Some(0.0412)), 3);
        assert_eq!(decimals("deg", Some(0.004_12)), 4);
        assert_eq!(decimals("deg", Some(0.000_996)), 4);
        assert_eq!(decimals("deg", Some(0.000_994)), 5);
        assert_eq!(decimals("deg", None), 3);
        assert_eq!(decimals("deg", Some(f64::NAN)), 3);
        assert_eq!(decimals("mm", Some(12.0)), 3);
        assert_eq!(decimals("N·m", Some(12.0)), 2);
        assert_eq!(decimals("deg", Some(1e-300)), 9);
    }

    #[test]
    fn zero_has_no_sign() {
        assert_eq!(rounded(-0.0004, 3), "0.000");
        assert_eq!(rounded(-0.0006, 3), "-0.001");
        assert_eq!(rounded(f64::INFINITY, 3), "not a number");
        assert_eq!(rounded(1e300, 3), "1.000e300");
    }

    #[test]
    fn given_values_stay_as_they_were_given() {
        assert_eq!(exact(1100.0), "1100");
        assert_eq!(exact(0.1 + 0.2), "0.3");
        assert_eq!(exact(-30.25), "-30.25");
        assert_eq!(exact(0.0), "0");
    }

    #[test]
    fn limits_in_words_of_the_trade() {
        assert_eq!(limits(Some(-0.35), Some(0.35)), "± 0.35");
        assert_eq!(limits(Some(-0.1), Some(0.2)), "-0.1 … 0.2");
        assert_eq!(limits(None, Some(1.5)), "≤ 1.5");
        assert_eq!(limits(Some(0.05), None), "≥ 0.05");
        assert_eq!(limits(None, None), "none");
    }

    #[test]
    fn small_probabilities_are_not_shown_as_zero() {
        assert_eq!(probability(0.000_012), "1.2e-5");
        assert_eq!(probability(0.97725), "0.9772");
        assert_eq!(probability(0.0), "0.0000");
    }
}
