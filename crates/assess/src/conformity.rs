//! The verdict on a value from the probability that it conforms (JCGM 106:2012, ISO 14253-1).

use crate::view::Verdict;
use numerics::decide;
use numerics::mixture::Mixture;
use quantity::shown::on_limit;
use record::Limits;
use record::plan::{Acceptance, Rule};

/// Level of every interval shown.
pub const LEVEL: f64 = 0.95;

/// What a value proves.
#[derive(Clone, Copy, Debug)]
pub struct Conformity {
    pub verdict: Verdict,
    /// Probability that it conforms.
    pub probability: f64,
}

/// By the plan's rule.
pub fn conformity(rule: &Rule, value: f64, error: &Mixture, limits: Limits<f64>) -> Conformity {
    let by = match rule.acceptance {
        Acceptance::Guarded => decide::Rule::Guarded { level: rule.level },
        Acceptance::Simple => decide::Rule::Simple,
    };
    let on = [limits.lower, limits.upper].into_iter().flatten().find(|limit| on_limit(value, *limit));
    let value = on.unwrap_or(value);
    let limits = decide::Limits { lower: limits.lower, upper: limits.upper };
    let probability = error.conformity(value, limits);
    let verdict = match decide::by_probability(value, probability, limits, by) {
        decide::Verdict::Within => Verdict::Within,
        decide::Verdict::Outside => Verdict::Outside,
        decide::Verdict::Undecided => Verdict::Undecided,
    };
    Conformity { verdict, probability }
}
