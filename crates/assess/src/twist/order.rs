//! How high an order the curve has, and how far it reaches. Both follow from where the stations are, never from what they read.

use record::plan::Plan;

/// Most stations to the order: with this many more stations than the order, less one, it grows by one.
const SPARE: usize = 3;
/// Stations from which on, with both datums shown, the curve may turn once more.
const MANY: usize = 10;
/// As near to its datum as this a station shows it, in spans.
const AT_DATUM: f64 = 0.03;
/// As far as this beyond the last station the curve is still used, in spans.
pub(super) const REACH: f64 = 0.05;
/// As far as this where the plan has no station nearer to the root datum. Common practice, no source: a first rib sits clear
/// of the fuselage side.
const REACH_ROOT: f64 = 0.10;
/// Room for a span that is not a round number.
const ROUNDING: f64 = 1e-9;

/// The order for stations at these relative places, by growing place; at least two.
pub(super) fn order(eta: &[f64], cap: Option<usize>) -> usize {
    by_stations(eta).min(cap.unwrap_or(usize::MAX)).max(1)
}

/// The order that the number of stations gives.
pub(super) fn by_stations(eta: &[f64]) -> usize {
    let shown =
        |place: Option<&f64>, datum: f64| place.is_some_and(|e| (e - datum).abs() <= AT_DATUM + ROUNDING);
    if eta.len() >= MANY && shown(eta.first(), 0.0) && shown(eta.last(), 1.0) {
        return 4;
    }
    eta.len().saturating_sub(SPARE).clamp(1, 3)
}

/// Whether the curve is used as far as each datum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Reach {
    pub root: bool,
    pub tip: bool,
}

/// For stations measured at these relative places.
pub(super) fn reach(plan: &Plan, eta: &[f64]) -> Reach {
    let (Some(first), Some(last)) = (eta.first(), eta.last()) else {
        return Reach { root: false, tip: false };
    };
    let nearer = plan.stations.iter().any(|s| plan.eta(s.span) < first - ROUNDING);
    let far = if nearer { REACH } else { REACH_ROOT };
    Reach { root: *first <= far + ROUNDING, tip: 1.0 - last <= REACH + ROUNDING }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn even(n: u32, first: f64, last: f64) -> Vec<f64> {
        (0..n).map(|i| first + (last - first) * f64::from(i) / f64::from(n - 1)).collect()
    }

    #[test]
    fn the_order_follows_from_the_stations() {
        let found: Vec<usize> = (2..=14).map(|n| order(&even(n, 0.0, 1.0), None)).collect();
        assert_eq!(found, [1, 1, 1, 2, 3, 3, 3, 3, 4, 4, 4, 4, 4]);
        assert_eq!(order(&even(12, 0.03, 0.97), None), 4);
        assert_eq!(order(&even(12, 0.06, 0.97), None), 3);
        assert_eq!(order(&even(12, 0.03, 0.95), None), 3);
        assert_eq!(order(&even(12, 0.0, 1.0), Some(2)), 2);
        assert_eq!(order(&even(5, 0.0, 1.0), Some(3)), 2);
    }
}
