//! A judged value as shown.

use crate::conformity::{Conformity, LEVEL, conformity};
use crate::estimate::Measured;
use crate::parts::Contradiction;
use crate::resolve::{OfPoint, sentence};
use crate::view::{Judged, Verdict};
use numerics::mixture::Mixture;
pub use numerics::scatter::Spread;
use quantity::Kind;
use quantity::shown::K95;
use record::Limits;
use record::plan::Plan;

/// A value to be judged.
pub struct ToJudge<'m> {
    pub unit: Kind,
    pub value: f64,
    pub spread: Spread,
    /// What a person can influence, if it is the value of a single point.
    pub makeup: Option<OfPoint>,
    /// What its readings contradict, if anything.
    pub contradicted: Option<Contradiction>,
    /// The measurements behind it.
    pub rests_on: Vec<&'m Measured>,
}

impl<'m> ToJudge<'m> {
    /// A combination of several things, so that nothing can be named that would decide it.
    pub fn made(unit: Kind, value: f64, u: f64, rests_on: Vec<&'m Measured>) -> Self {
        Self { unit, value, spread: Spread::normal(u), makeup: None, contradicted: None, rests_on }
    }

    /// The value of one point, with the uncertainty of its reading.
    pub fn of_point(unit: Kind, value: f64, measured: &'m Measured) -> Self {
        let made = Self::made(unit, value, measured.estimate.u(), vec![measured]);
        Self { makeup: Some(OfPoint::of(measured)), ..made }
    }
}

/// A judged value, complete; without limits it has no verdict. If it is contradicted, or what it depends on is in
/// doubt, it is doubtful wherever it is shown.
pub fn judged(
    plan: &Plan,
    what: impl Into<String>,
    value: ToJudge<'_>,
    limits: Option<Limits<f64>>,
) -> Judged {
    let ToJudge { unit, value, spread, makeup, contradicted, rests_on } = value;
    let mut judged = judged_by(plan, what, unit, value, &spread.error(), limits);
    if let (Some(Verdict::Undecided), Some(limits)) = (judged.verdict, limits) {
        let ways = makeup.map(OfPoint::ways).unwrap_or_default();
        judged.decide = Some(sentence(plan, unit, value, judged.u, limits, &ways));
    }
    judged.spread = Some(spread);
    let doubt = rests_on.into_iter().flat_map(|m| &m.doubts).next();
    let doubt = doubt.map(|doubt| format!("{doubt}; {}", doubt.settles()));
    let doubt = doubt.or_else(|| contradicted.map(|why| why.to_string()));
    if let (Some(why), Some(_)) = (doubt, judged.verdict) {
        judged.verdict = Some(Verdict::Doubtful);
        judged.decide = Some(why);
    }
    judged
}

/// A judged value from the distribution of its error, without what would decide it.
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
    let not = Conformity { verdict: Verdict::CannotJudge, probability: 0.0 };
    let found = limits.map(|l| if sound { conformity(&plan.rule, value, error, l) } else { not });
    Judged {
        what: what.into(),
        unit,
        value,
        u: half / K95,
        lower95: value - half,
        upper95: value + half,
        lower: limits.and_then(|l| l.lower),
        upper: limits.and_then(|l| l.upper),
        verdict: found.map(|f| f.verdict),
        probability: found.map(|f| f.probability),
        decide: None,
        spread: None,
        units: plan.shown_in,
    }
}
