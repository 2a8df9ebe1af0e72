//! Numbers as people read them.

use assess::view::Judged;

/// So many decimals that an uncertainty shows two digits, within reason.
pub fn decimals(u: f64) -> usize {
    if !(u.is_finite() && u > 0.0) {
        return 3;
    }
    let mut places = 0;
    let mut scaled = u;
    while scaled < 9.95 && places < 4 {
        scaled *= 10.0;
        places += 1;
    }
    places.max(1)
}

/// With its sign always shown; a rounded zero has none.
pub fn signed(value: f64, places: usize) -> String {
    let text = format!("{value:+.places$}");
    if text.bytes().all(|b| matches!(b, b'+' | b'-' | b'0' | b'.')) {
        text.replace(['+', '-'], " ")
    } else {
        text
    }
}

/// A probability of conformity in percent, never rounded up to certainty or down to nothing.
pub fn percent(p: f64) -> String {
    let percent = p * 100.0;
    if percent > 99.95 {
        "> 99.9 %".to_owned()
    } else if percent < 0.05 {
        "< 0.1 %".to_owned()
    } else {
        format!("{percent:.1} %")
    }
}

/// A significance, never rounded to nothing.
pub fn significance(p: f64) -> String {
    if p < 0.001 { "p < 0.001".to_owned() } else { format!("p {p:.3}") }
}

/// Limits in words: `±0.5`, `-0.2 to +0.4`, `at most 1.5`, `at least 0.05`.
pub fn limits(lower: Option<f64>, upper: Option<f64>) -> Option<String> {
    match (lower, upper) {
        (Some(l), Some(u)) if l == -u => Some(format!("±{}", short(u))),
        (Some(l), Some(u)) => Some(format!("{} to {}", short_signed(l), short_signed(u))),
        (None, Some(u)) => Some(format!("at most {}", short(u))),
        (Some(l), None) => Some(format!("at least {}", short(l))),
        (None, None) => None,
    }
}

/// In as few digits as it needs, four decimals at most.
pub fn short(value: f64) -> String {
    let text = format!("{value:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn short_signed(value: f64) -> String {
    if value > 0.0 { format!("+{}", short(value)) } else { short(value) }
}

/// Decimals for a judged value: those of its uncertainty.
pub fn places_of(judged: &Judged) -> usize {
    decimals(2.0 * judged.u)
}

#[cfg(test)]
mod tests {
    use super::{decimals, limits, percent, signed};

    #[test]
    fn an_uncertainty_shows_two_digits() {
        for (u, places) in
            [(12.0, 1), (1.2, 1), (0.12, 2), (0.05, 3), (0.012, 3), (0.000_1, 4), (0.0, 3), (f64::NAN, 3)]
        {
            assert_eq!(decimals(u), places, "{u}");
        }
    }

    #[test]
    fn numbers_read_as_they_should() {
        assert_eq!(signed(0.354, 2), "+0.35");
        assert_eq!(signed(-0.001, 2), " 0.00");
        assert_eq!(percent(0.999_999), "> 99.9 %");
        assert_eq!(percent(0.000_01), "< 0.1 %");
        assert_eq!(percent(0.5), "50.0 %");
        assert_eq!(limits(Some(-0.1), Some(0.1)).as_deref(), Some("±0.1"));
        assert_eq!(limits(Some(-0.333_333_3), Some(0.5)).as_deref(), Some("-0.3333 to +0.5"));
        assert_eq!(limits(Some(0.0), Some(10.0)).as_deref(), Some("0 to +10"));
        assert_eq!(limits(None, Some(1.5)).as_deref(), Some("at most 1.5"));
        assert_eq!(limits(None, None), None);
    }
}
