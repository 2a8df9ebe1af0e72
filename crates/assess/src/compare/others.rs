//! What two assessments have in common besides the twist.

use super::profile::label;
use crate::twist::ALPHA;
use crate::view::{Assessment, ComparisonKind, ComparisonOther, Judged, ObligationKind as K};
use numerics::mixture::Mixture;
use quantity::Kind;
use record::point::{Design, Judgement};
use std::collections::BTreeMap;

/// What is compared, and what cannot be.
pub(super) struct Others {
    pub(super) others: Vec<ComparisonOther>,
    pub(super) not_compared: Vec<String>,
}

/// A value with its standard uncertainty.
#[derive(Clone, Copy)]
struct Value {
    unit: Kind,
    value: f64,
    u: f64,
}

impl From<&Judged> for Value {
    fn from(judged: &Judged) -> Self {
        Self { unit: judged.unit, value: judged.value, u: judged.u }
    }
}

/// Every value that both have, by name, in the order of the first; and what only one has.
pub(super) fn others(first: &Assessment, second: &Assessment, kind: ComparisonKind) -> Others {
    let (ours, theirs) = (values(first), values(second));
    let there: BTreeMap<&str, Value> = theirs.iter().map(|(name, value)| (name.as_str(), *value)).collect();
    let here: BTreeMap<&str, Value> = ours.iter().map(|(name, value)| (name.as_str(), *value)).collect();
    let common: Vec<(&String, Value, Value)> =
        ours.iter().filter_map(|(name, value)| Some((name, *value, *there.get(name.as_str())?))).collect();
    let alpha = ALPHA / common.len().max(1) as f64;
    // Taken in different rounds, so they share nothing.
    let one = |(name, a, b): &(&String, Value, Value)| {
        let u = libm::hypot(a.u, b.u);
        let difference = a.value - b.value;
        let p = Mixture::normal(u).two_sided(difference);
        ComparisonOther {
            name: (*name).clone(),
            unit: a.unit,
            first: a.value,
            second: b.value,
            difference,
            u,
            p,
            real: p < alpha,
        }
    };
    let others = common.iter().filter(|(_, a, b)| a.unit == b.unit).map(one).collect();
    let alone = |mine: &[(String, Value)], other: &BTreeMap<&str, Value>, of: &Assessment| {
        let names: Vec<&str> =
            mine.iter().map(|(name, _)| name.as_str()).filter(|name| !other.contains_key(name)).collect();
        (!names.is_empty()).then(|| format!("{}: only {} has a value", names.join(", "), label(of, kind)))
    };
    let not_compared = [alone(&ours, &there, first), alone(&theirs, &here, second)];
    Others { others, not_compared: not_compared.into_iter().flatten().collect() }
}

/// Every named value of an assessment except the twist. Offsets, heights and centres of bushes depend on the line or
/// datum they were measured from; straightness and clearance, which are computed from them, do not.
fn values(a: &Assessment) -> Vec<(String, Value)> {
    let name = |kind: K, about: &str| match kind {
        K::Level | K::Cross => format!("{} {about}", kind.word()),
        K::Square => format!("{about}, out of square"),
        _ => kind.of(about),
    };
    // Rigged values are compared by their own pairs.
    let views = a.judged().filter(|one| one.kind != K::Rigging);
    let mut out: Vec<(String, Value)> =
        views.map(|one| (name(one.kind, one.about), one.judged.into())).collect();
    for point in &a.points {
        let row = point.point.kind().row();
        let by_itself = row.judgement == Judgement::OwnLimits || row.design == Design::Bore;
        if let (true, Some(value), Some(u)) = (by_itself, point.value, point.u) {
            out.push((point.point.to_string(), Value { unit: point.unit, value, u }));
        }
    }
    out
}
