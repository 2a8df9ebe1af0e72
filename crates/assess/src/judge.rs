//! A value against its limits (JCGM 106:2012, ISO 14253-1).

use crate::resolve::{self, Makeup};
use crate::view::{Judged, Verdict};
use numerics::decide;
use record::Limits;
use record::plan::{Acceptance, Rule};

/// Standard uncertainty and the coverage that goes with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Standard uncertainty.
    pub u: f64,
    /// Degrees of freedom of Student's t; none for the normal.
    pub dof: Option<f64>,
}

/// Probability that the true value lies inside the limits.
pub fn probability(value: f64, spread: Spread, limits: Limits<f64>) -> f64 {
    decide::conformity(
        value,
        spread.u,
        spread.dof,
        decide::Limits { lower: limits.lower, upper: limits.upper },
    )
}

/// Verdict and probability of conformity of a value.
///
/// `within` where the probability of conformity reaches the level, `outside` where that of non-conformity does. This
/// equals guard bands of k u at each limit while u is small against the zone, and stays right when it is not.
pub fn verdict(rule: &Rule, value: f64, spread: Spread, limits: Limits<f64>) -> (Verdict, f64) {
    let p = probability(value, spread, limits);
    let verdict = match rule.acceptance {
        Acceptance::Simple => {
            let inside = limits.lower.is_none_or(|l| value >= l) && limits.upper.is_none_or(|u| value <= u);
            if inside { Verdict::Within } else { Verdict::Outside }
        }
        Acceptance::Guarded if p >= rule.level => Verdict::Within,
        Acceptance::Guarded if 1.0 - p >= rule.level => Verdict::Outside,
        Acceptance::Guarded => Verdict::Undecided,
    };
    (verdict, p)
}

/// A judged value, complete; without limits it carries no verdict.
pub fn judged(
    rule: &Rule,
    what: impl Into<String>,
    unit: &'static str,
    value: f64,
    spread: Spread,
    limits: Option<Limits<f64>>,
    makeup: &Makeup,
) -> Judged {
    let found = limits.map(|l| verdict(rule, value, spread, l));
    let decide = match (found, limits) {
        (Some((Verdict::Undecided, _)), Some(l)) => {
            Some(resolve::what_would_decide(rule, unit, value, spread, l, makeup))
        }
        _ => None,
    };
    Judged {
        what: what.into(),
        unit,
        value,
        u: spread.u,
        dof: spread.dof,
        lower: limits.and_then(|l| l.lower),
        upper: limits.and_then(|l| l.upper),
        verdict: found.map(|(v, _)| v),
        probability: found.map(|(_, p)| p),
        decide,
    }
}
