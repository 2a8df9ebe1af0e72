//! Left against right, by names that differ only in the side.

use super::{Given, Value, value};
use crate::estimate::{Estimate, Measured};
use crate::judge::judged;
use crate::parts::Values;
use crate::view::{Judged, RigPair, RigView, WingView};
use record::Limits;
use record::plan::{Plan, RigCheck, RigValue};
use std::collections::BTreeMap;

/// Words for a side.
const SIDES: [(&str, bool); 4] = [("left", true), ("right", false), ("port", true), ("starboard", false)];

/// A name without its side.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Sided {
    without: String,
    left: bool,
}

/// The name without its side; `None` if it names no side or several.
fn sided(name: &str) -> Option<Sided> {
    let side = |word: &str| SIDES.iter().find(|(s, _)| word.eq_ignore_ascii_case(s)).map(|(_, left)| *left);
    let mut found = name.split(' ').filter_map(side);
    let (left, None) = (found.next()?, found.next()) else { return None };
    let without: Vec<&str> = name.split(' ').filter(|word| side(word).is_none()).collect();
    Some(Sided { without: without.join(" "), left })
}

/// Left and right of everything that has both, in the order of work; each side as judged alone among `views`.
pub fn rig_pairs(
    plan: &Plan,
    checks: &[RigCheck<'_>],
    values: &Values,
    level: f64,
    wings: &[WingView],
    views: &[RigView],
) -> Vec<RigPair> {
    let given = Given { values, level, wings, units: plan.shown_in };
    let mut rights: BTreeMap<String, &RigCheck<'_>> = BTreeMap::new();
    for check in checks {
        if let Some(Sided { without, left: false }) = sided(&check.name) {
            rights.insert(without, check);
        }
    }
    let side = |check: &RigCheck<'_>| views.iter().find(|v| v.name == check.name).map(|v| v.judged.clone());
    let pair = |left: &RigCheck<'_>| {
        let name = sided(&left.name).filter(|s| s.left)?.without;
        let right = rights.get(&name).filter(|r| r.unit == left.unit)?;
        Some(RigPair {
            left: side(left),
            right: side(right),
            difference: difference(plan, checks, left, right, given),
            name,
        })
    };
    checks.iter().filter_map(pair).collect()
}

fn measured<'a>(check: &RigCheck<'_>, values: &'a Values) -> Option<Vec<&'a Measured>> {
    check.points.iter().map(|p| values.get(p)).collect()
}

/// Left less right, by the plan's own difference of the two, else without a limit.
fn difference(
    plan: &Plan,
    checks: &[RigCheck<'_>],
    left: &RigCheck<'_>,
    right: &RigCheck<'_>,
    given: Given<'_>,
) -> Option<Judged> {
    let mut rests_on = measured(left, given.values)?;
    rests_on.extend(measured(right, given.values)?);
    let (l, r) = (value(left, given).ok()?, value(right, given).ok()?);
    let estimate =
        Estimate::propagate(l.estimate.value - r.estimate.value, &[(1.0, &l.estimate), (-1.0, &r.estimate)]);
    // The plan may subtract either from the other.
    let planned = checks.iter().find_map(|check| {
        let RigValue::Sum(shares) = &check.value else { return None };
        let [first, second] = shares.as_slice() else { return None };
        if (first.share, second.share) != (1.0, -1.0) {
            return None;
        }
        let names = (first.check.name.as_str(), second.check.name.as_str());
        let turned = |l: Limits<f64>| Limits { lower: l.upper.map(|v| -v), upper: l.lower.map(|v| -v) };
        if names == (&left.name, &right.name) {
            Some((check.name.clone(), check.limits))
        } else if names == (&right.name, &left.name) {
            Some((check.name.clone(), check.limits.map(turned)))
        } else {
            None
        }
    });
    let (name, limits) = planned.unwrap_or_else(|| ("left less right".to_owned(), None));
    let difference = Value { estimate, contradicted: l.contradicted.or(r.contradicted) };
    Some(judged(plan, name, difference.into_judged(left.unit, rests_on), limits))
}
