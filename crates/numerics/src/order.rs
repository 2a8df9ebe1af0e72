//! The order of the curve through a profile. It depends on where the stations are, never on what they read.

/// The order is the number of stations less this, within its bounds.
const SPARE: usize = 3;
/// From this many stations on, if both datums are shown, the order may be one higher.
const MANY: usize = 10;
/// This many degrees of freedom are too few to tell the scatter of the ribs well, if one more is available.
const FEW_LEFT: usize = 2;
/// A station within this distance of a datum, in spans, shows that datum.
const AT_DATUM: f64 = 0.03;
/// Allowance for a span that is not a round number.
const ROUNDING: f64 = 1e-9;

/// The order for stations at these relative places, sorted; at least two stations.
pub fn order(eta: &[f64], cap: Option<usize>) -> usize {
    by_stations(eta).min(cap.unwrap_or(usize::MAX)).max(1)
}

/// The order from the number of stations alone.
pub fn by_stations(eta: &[f64]) -> usize {
    if eta.len() >= MANY && at_datums(eta) {
        return 4;
    }
    eta.len().saturating_sub(SPARE).clamp(1, 3)
}

/// The order of the curve whose residuals give the scatter of the ribs, for a curve of this order through these
/// stations.
///
/// The residuals of a lower curve hold the scatter and any shape it does not follow: they can overstate the scatter
/// but never understate it. If the curve leaves two degrees of freedom, one order lower gives a third, and good wings
/// gain more by it than bowed wings lose. This does not apply if the curve extends beyond its end stations: there the
/// shape itself is in doubt.
pub fn of_scatter(eta: &[f64], order: usize) -> usize {
    let left = eta.len().saturating_sub(order + 1);
    if left == FEW_LEFT && order > 1 && at_datums(eta) { order - 1 } else { order }
}

/// Whether some station shows each datum.
fn at_datums(eta: &[f64]) -> bool {
    let shown =
        |place: Option<&f64>, datum: f64| place.is_some_and(|e| (e - datum).abs() <= AT_DATUM + ROUNDING);
    shown(eta.first(), 0.0) && shown(eta.last(), 1.0)
}
