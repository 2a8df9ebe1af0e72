//! Where a new plan demands less of the rigged aeroplane.

use super::found::{Found, key, wider};
use crate::plan::{Plan, RigCheck, RigValue, Share, Tension};
use std::collections::BTreeMap;

fn checks(plan: &Plan) -> BTreeMap<String, RigCheck<'_>> {
    plan.rig_checks().into_iter().map(|check| (check.name.clone(), check)).collect()
}

/// The names of everything rigged in the plan.
pub fn names(plan: &Plan) -> Vec<String> {
    let checks = plan.rig_checks().into_iter().filter(RigCheck::has_limits).map(|check| check.name);
    let wings = plan.rigging.wings.iter().map(|wing| wing.about());
    checks.chain(wings).map(|name| format!("rigging.{name}")).collect()
}

/// Limits that are wider, and any other change that lets a value pass that did not pass before.
pub fn keys(old: &Plan, new: &Plan, found: &mut Found) {
    for before in &old.rigging.wings {
        let Some(now) = new.rigging.wings.iter().find(|w| w.name == before.name) else { continue };
        let other = |was: &Option<String>, is: &Option<String>| was.is_some() && was != is;
        if other(&before.serial, &now.serial)
            || other(&before.drawing, &now.drawing)
            || other(&before.issue, &now.issue)
            || before.side != now.side
            || before.stations.iter().any(|s| !now.stations.contains(s))
        {
            key(found, format!("rigging.{}", before.about()));
        }
    }
    let after = checks(new);
    for (name, before) in checks(old) {
        let Some(now) = after.get(&name) else { continue };
        let tape = before.points.iter().any(|p| old.tape_at(p) != new.tape_at(p));
        let other = tape || before.points != now.points || made_otherwise(&before.value, &now.value);
        if wider(before.limits, now.limits) || other {
            key(found, format!("rigging.{name}"));
        }
    }
}

/// Whether the same readings would give a different value.
fn made_otherwise(before: &RigValue<'_>, now: &RigValue<'_>) -> bool {
    let sums = |a: &[Share<'_>], b: &[Share<'_>]| {
        let differ = |(a, b): (&Share<'_>, &Share<'_>)| {
            a.share != b.share
                || a.check.name != b.check.name
                || made_otherwise(&a.check.value, &b.check.value)
        };
        a.len() != b.len() || a.iter().zip(b).any(differ)
    };
    match (before, now) {
        (RigValue::Own, RigValue::Own) => false,
        (RigValue::Deviation(a), RigValue::Deviation(b)) => a != b,
        (RigValue::Angle { angle: a, datum: from }, RigValue::Angle { angle: b, datum: to }) => {
            a.base != b.base || from != to
        }
        (RigValue::Neutral(a), RigValue::Neutral(b)) => a != b,
        (RigValue::Sweep(a), RigValue::Sweep(b)) => a.base != b.base,
        (RigValue::Travel(a), RigValue::Travel(b)) => a.by != b.by,
        (RigValue::Tension(a), RigValue::Tension(b)) => {
            // A changed chart may demand less at some temperature.
            let chart = matches!(a.tension, Tension::Chart { .. });
            (chart && a.tension != b.tension) || (&a.size, &a.riser) != (&b.size, &b.riser)
        }
        (RigValue::Torque(a), RigValue::Torque(b)) => {
            (a.extension, a.drag_rule) != (b.extension, b.drag_rule)
        }
        (RigValue::Yaw(a), RigValue::Yaw(b)) | (RigValue::Offset(a), RigValue::Offset(b)) => {
            a.pairs != b.pairs
        }
        (RigValue::SinceJig(a), RigValue::SinceJig(b)) => {
            a.from != b.from || a.station != b.station || sums(&a.now, &b.now)
        }
        (RigValue::Sum(a), RigValue::Sum(b)) => sums(a, b),
        _ => true,
    }
}
