//! How far the curve reaches. Like its order (`numerics::order`), that depends on where the stations are, never on
//! what they read.

use record::plan::Plan;

/// The curve is used up to this far beyond the last station, in spans.
pub(super) const REACH: f64 = 0.05;
/// The same at the root, if the plan has no station nearer to the root datum. Common practice, no source: a first rib
/// is clear of the fuselage side.
const REACH_ROOT: f64 = 0.10;
/// Allowance for a span that is not a round number.
const ROUNDING: f64 = 1e-9;

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
