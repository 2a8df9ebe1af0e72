//! What a difference of two wings is held against: the left-right tolerances and the rules of both plans.

use crate::judge::judged_by;
use crate::twist::ALPHA;
use crate::view::{Assessment, ComparisonKind, ComparisonRow, Judged, Verdict};
use numerics::mixture::Mixture;
use quantity::Kind;
use record::Limits;
use record::plan::{Plan, Side};

/// One of two that are compared.
#[derive(Clone, Copy, Debug)]
pub struct Compared<'a> {
    /// The plan it was judged by.
    pub plan: &'a Plan,
    /// What was found of it.
    pub found: &'a Assessment,
}

/// A value of one of the two, and why it proves nothing, where it does not.
pub(super) struct Valued {
    pub(super) value: f64,
    pub(super) error: Mixture,
    pub(super) spoilt: Option<Spoilt>,
}

/// A value that is in doubt, or of readings that count no more.
#[derive(Clone, Debug)]
pub(super) struct Spoilt {
    pub(super) verdict: Verdict,
    pub(super) why: String,
}

/// True for a verdict of readings that prove nothing.
pub(super) const fn is_spoilt(verdict: Option<Verdict>) -> bool {
    use Verdict::{CannotJudge, Doubtful, Missing, Stale};
    matches!(verdict, Some(Missing | Stale | Doubtful | CannotJudge))
}

/// By what a difference is judged.
pub(super) struct Rulings<'a> {
    plans: [&'a Plan; 2],
    /// The tolerances stated, first less second.
    limits: Vec<Limits<f64>>,
}

impl<'a> Rulings<'a> {
    pub(super) fn of(kind: ComparisonKind, both: [Compared<'a>; 2]) -> Self {
        let plans = both.map(|one| one.plan);
        let stated = plans.into_iter().filter_map(|plan| plan.tolerances.left_right);
        let stated = stated.map(Limits::values);
        // A tolerance is of left less right.
        let turned = |l: Limits<f64>| match both[0].found.side {
            Side::Right => Limits { lower: l.upper.map(|v| -v), upper: l.lower.map(|v| -v) },
            Side::Left | Side::Both => l,
        };
        let limits = match kind {
            ComparisonKind::Sides => stated.map(turned).collect(),
            ComparisonKind::Stages | ComparisonKind::SinceJig => Vec::new(),
        };
        Self { plans, limits }
    }

    /// True where a plan has a left-right tolerance.
    pub(super) const fn limited(&self) -> bool {
        !self.limits.is_empty()
    }

    /// One row; `alpha` is the significance from which it counts as changed.
    pub(super) fn row(
        &self,
        name: &str,
        span_mm: Option<f64>,
        [x, y]: [Valued; 2],
        alpha: f64,
    ) -> ComparisonRow {
        let error = x.error.plus(&y.error);
        let p = error.two_sided(x.value - y.value);
        let difference = self.judged(name, x.value - y.value, &error);
        ComparisonRow {
            name: name.to_owned(),
            span_mm,
            first_deg: x.value,
            second_deg: y.value,
            difference: spoilt(difference, [x.spoilt, y.spoilt]),
            p,
            real: p < alpha,
        }
    }

    /// The same without a verdict: what has no tolerance.
    pub(super) fn unlimited(&self, name: &str, of: [Valued; 2]) -> ComparisonRow {
        let without = Self { plans: self.plans, limits: Vec::new() };
        without.row(name, None, of, ALPHA)
    }

    /// By the strictest of both plans.
    fn judged(&self, name: &str, difference: f64, error: &Mixture) -> Judged {
        let judged = |plan, limits| judged_by(plan, name, Kind::Angle, difference, error, limits);
        let each = self.plans.into_iter().flat_map(|plan| self.limits.iter().map(move |l| (plan, *l)));
        let strictest = each.map(|(plan, limits)| judged(plan, Some(limits))).reduce(|a, b| {
            let worse = b.verdict.cmp(&a.verdict);
            let less = a.probability.unwrap_or(1.0).total_cmp(&b.probability.unwrap_or(1.0));
            if worse.then(less).is_gt() { b } else { a }
        });
        let units = self.plans[0].shown_in;
        Judged { units, ..strictest.unwrap_or_else(|| judged(self.plans[0], None)) }
    }
}

/// What is in doubt in one of the two is in doubt in their difference.
fn spoilt(judged: Judged, by: [Option<Spoilt>; 2]) -> Judged {
    let worst = by.into_iter().flatten().max_by_key(|s| s.verdict);
    match (judged.verdict, worst) {
        (Some(_), Some(spoilt)) => {
            Judged { verdict: Some(spoilt.verdict), decide: Some(spoilt.why), ..judged }
        }
        _ => judged,
    }
}
