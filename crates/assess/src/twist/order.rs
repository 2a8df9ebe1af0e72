//! How high an order the curve has, and how far it reaches. Both follow from where the stations are, never from what they read.

use record::plan::Plan;

/// Most stations to the order: with this many more stations than the order, less one, it grows by one.
const SPARE: usize = 3;
/// Stations from which on, with both datums shown, the curve may turn once more.
const MANY: usize = 10;
/// Degrees of freedom that are too few to tell the scatter of the ribs well, if one more can be had.
const FEW_LEFT: usize = 2;
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
    if eta.len() >= MANY && at_datums(eta) {
        return 4;
    }
    eta.len().saturating_sub(SPARE).clamp(1, 3)
}

/// The order of the curve whose residuals tell the scatter of the ribs, for a curve of this order through these stations.
///
/// A lower curve's residuals hold the scatter and whatever shape it does not follow: they can overstate the scatter and never
/// understate it. Where the curve leaves two degrees of freedom, one order lower gives a third, which a good wing needs more than
/// a bowed one loses by it. Not where the curve runs on beyond its end stations: there the shape itself is in doubt.
pub(super) fn of_scatter(eta: &[f64], order: usize) -> usize {
    let left = eta.len().saturating_sub(order + 1);
    if left == FEW_LEFT && order > 1 && at_datums(eta) { order - 1 } else { order }
}

/// Whether a station shows each datum.
fn at_datums(eta: &[f64]) -> bool {
    let shown =
        |place: Option<&f64>, datum: f64| place.is_some_and(|e| (e - datum).abs() <= AT_DATUM + ROUNDING);
    shown(eta.first(), 0.0) && shown(eta.last(), 1.0)
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

    #[test]
    fn scatter_has_three_degrees_of_freedom_where_the_datums_are_shown() {
        let of = |n: u32, first: f64| {
            let eta = even(n, first, 1.0);
            of_scatter(&eta, order(&eta, None))
        };
        let found: Vec<usize> = (4..=8).map(|n| of(n, 0.0)).collect();
        assert_eq!(found, [1, 1, 2, 3, 3]);
        assert_eq!([of(5, 0.04), of(6, 0.04)], [2, 3]);
    }
}
