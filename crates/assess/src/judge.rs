//! A value against its limits (JCGM 106:2012, ISO 14253-1).

use crate::resolve::{self, Makeup};
use crate::view::{Judged, Verdict};
use numerics::decide;
use quantity::Kind;
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

/// Verdict and probability of conformity of a value, by the plan's rule.
pub fn verdict(rule: &Rule, value: f64, spread: Spread, limits: Limits<f64>) -> (Verdict, f64) {
    let by = match rule.acceptance {
        Acceptance::Guarded => decide::Rule::Guarded { level: rule.level },
        Acceptance::Simple => decide::Rule::Simple,
    };
    let limits = decide::Limits { lower: limits.lower, upper: limits.upper };
    let (found, probability) = decide::verdict(value, spread.u, spread.dof, limits, by);
    let verdict = match found {
        decide::Verdict::Within => Verdict::Within,
        decide::Verdict::Outside => Verdict::Outside,
        decide::Verdict::Undecided => Verdict::Undecided,
    };
    (verdict, probability)
}

/// A judged value, complete; without limits it carries no verdict.
pub fn judged(
    rule: &Rule,
    what: impl Into<String>,
    unit: Kind,
    value: f64,
    spread: Spread,
    limits: Option<Limits<f64>>,
    makeup: &Makeup,
) -> Judged {
    let found = limits.map(|l| verdict(rule, value, spread, l));
    let decide = match (found, limits) {
        (Some((Verdict::Undecided, _)), Some(l)) => {
            Some(resolve::what_would_decide(rule, unit.base_symbol(), value, spread, l, makeup))
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
