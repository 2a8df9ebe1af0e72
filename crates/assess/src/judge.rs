//! A judged value as it is shown.

use crate::conformity::{LEVEL, verdict};
use crate::estimate::Measured;
use crate::resolve::{self, Makeup};
use crate::view::{Judged, Verdict};
use numerics::mixture::Mixture;
pub use numerics::scatter::Spread;
use quantity::Kind;
use quantity::shown::K95;
use record::Limits;
use record::plan::Plan;

/// A judged value, complete; without limits it carries no verdict.
pub fn judged(
    plan: &Plan,
    what: impl Into<String>,
    unit: Kind,
    value: f64,
    spread: Spread,
    limits: Option<Limits<f64>>,
    makeup: &Makeup,
) -> Judged {
    let mut judged = judged_by(plan, what, unit, value, &spread.error(), limits);
    if let (Some(Verdict::Undecided), Some(limits)) = (judged.verdict, limits) {
        let scale = plan.shown_in.scale(unit);
        judged.decide = Some(resolve::what_would_decide(&plan.rule, scale, value, judged.u, limits, *makeup));
    }
    judged.spread = Some(spread);
    judged
}

/// A judged value by the distribution of its error, without what would decide it.
pub fn judged_by(
    plan: &Plan,
    what: impl Into<String>,
    unit: Kind,
    value: f64,
    error: &Mixture,
    limits: Option<Limits<f64>>,
) -> Judged {
    let half = error.half_width(LEVEL);
    let sound = value.is_finite() && half.is_finite();
    let found = limits
        .map(|l| if sound { verdict(&plan.rule, value, error, l) } else { (Verdict::CannotJudge, 0.0) });
    Judged {
        what: what.into(),
        unit,
        value,
        u: half / K95,
        lower95: value - half,
        upper95: value + half,
        lower: limits.and_then(|l| l.lower),
        upper: limits.and_then(|l| l.upper),
        verdict: found.map(|(v, _)| v),
        probability: found.map(|(_, p)| p),
        decide: None,
        spread: None,
        units: plan.shown_in,
    }
}

/// The same value where what it rests on is in doubt: it has no other verdict, wherever it is shown.
pub fn doubted<'m>(mut judged: Judged, rests_on: impl IntoIterator<Item = &'m Measured>) -> Judged {
    let doubts = rests_on.into_iter().flat_map(|m| &m.doubts);
    if let (Some(first), Some(_)) = (doubts.into_iter().next(), judged.verdict) {
        judged.verdict = Some(Verdict::Doubtful);
        judged.decide = Some(format!("{first}; {}", first.settles()));
    }
    judged
}
