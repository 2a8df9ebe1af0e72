//! How high an order the curve through a profile has. It follows from where the stations are, never from what they read.

/// Most stations to the order: with this many more stations than the order, less one, it grows by one.
const SPARE: usize = 3;
/// Stations from which on, with both datums shown, the curve may turn once more.
const MANY: usize = 10;
/// Degrees of freedom that are too few to tell the scatter of the ribs well, if one more can be had.
const FEW_LEFT: usize = 2;
/// As near to its datum as this a station shows it, in spans.
const AT_DATUM: f64 = 0.03;
/// Room for a span that is not a round number.
const ROUNDING: f64 = 1e-9;

/// The order for stations at these relative places, by growing place; at least two.
pub fn order(eta: &[f64], cap: Option<usize>) -> usize {
    by_stations(eta).min(cap.unwrap_or(usize::MAX)).max(1)
}

/// The order that the number of stations gives.
pub fn by_stations(eta: &[f64]) -> usize {
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
pub fn of_scatter(eta: &[f64], order: usize) -> usize {
    let left = eta.len().saturating_sub(order + 1);
    if left == FEW_LEFT && order > 1 && at_datums(eta) { order - 1 } else { order }
}

/// Whether a station shows each datum.
fn at_datums(eta: &[f64]) -> bool {
    let shown =
        |place: Option<&f64>, datum: f64| place.is_some_and(|e| (e - datum).abs() <= AT_DATUM + ROUNDING);
    shown(eta.first(), 0.0) && shown(eta.last(), 1.0)
}
