//! The keys by which a new plan demands less than the old one.

use super::found::{Found, Sides, key, wider};
use super::instruments::claims;
use super::{design, rigging};
use crate::plan::{Acceptance, Plan, ReworkRule};
use crate::{Limits, Point};
use std::collections::BTreeSet;

fn said(found: &mut Found, key: &str, old: String, new: Option<String>) {
    found.insert(key.to_owned(), Some(Sides { old, new }));
}

/// Every loosened key.
pub fn keys(old: &Plan, new: &Plan) -> Found {
    let mut found = Found::new();
    tolerances(old, new, &mut found);
    rule(old, new, &mut found);
    parts(old, new, &mut found);
    design::keys(old, new, &mut found);
    rigging::keys(old, new, &mut found);
    stages(old, new, &mut found);
    gone(old, new, &mut found);
    for before in &old.instruments {
        let after = new.instruments.iter().find(|i| i.name == before.name);
        for claim in after.into_iter().flat_map(|after| claims(before, after)) {
            key(&mut found, claim.key);
        }
    }
    let recorded = |plan: &Plan| plan.record_only.iter().cloned().collect::<BTreeSet<Point>>();
    if !recorded(new).is_subset(&recorded(old)) {
        key(&mut found, "record_only");
    }
    let stales = |plan: &Plan| -> BTreeSet<Staled> {
        let of = |rule: &ReworkRule| {
            let pair = |of: &Point, stale: &Point| Staled { of: of.clone(), stale: stale.clone() };
            rule.of.iter().flat_map(|of| rule.stales.iter().map(move |s| pair(of, s))).collect::<Vec<_>>()
        };
        plan.reworks.iter().flat_map(of).collect()
    };
    if !stales(old).is_subset(&stales(new)) {
        said(&mut found, "rework", "what goes stale with it".to_owned(), Some("less".to_owned()));
    }
    found
}

/// A point that a rework of another makes stale.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Staled {
    of: Point,
    stale: Point,
}

/// Parts that are no longer in the plan, and with them whatever had to be proven about them.
fn gone(old: &Plan, new: &Plan, found: &mut Found) {
    let names = |plan: &Plan| -> BTreeSet<String> {
        let of = |list: &str, names: Vec<&String>| -> Vec<String> {
            names.into_iter().map(|name| format!("{list}.{name}")).collect()
        };
        [
            of("station", plan.stations.iter().map(|s| &s.name).collect()),
            of("spar", plan.spars.iter().map(|s| &s.name).collect()),
            of("post", plan.posts.iter().map(|p| &p.name).collect()),
            of("bay", plan.bays.iter().map(|b| &b.name).collect()),
            of("bush", plan.bushes.iter().map(|b| &b.name).collect()),
            of("spot", plan.spots.iter().map(|s| &s.name).collect()),
            rigging::names(plan),
            of("stage", plan.stages.iter().map(|s| &s.name).collect()),
            of("shaft", plan.shaft.iter().map(|s| &s.name).collect()),
        ]
        .concat()
        .into_iter()
        .collect()
    };
    for part in names(old).difference(&names(new)) {
        said(found, part, "in the plan".to_owned(), None);
    }
}

fn tolerances(old: &Plan, new: &Plan, found: &mut Found) {
    let all = |plan: &Plan| {
        let t = &plan.tolerances;
        let degrees = |l: Option<Limits<quantity::Degrees>>| l.map(Limits::values);
        [
            ("setting", degrees(t.setting)),
            ("washout", degrees(t.washout)),
            ("station", degrees(t.station)),
            ("neighbour", degrees(t.neighbour)),
            ("left_right", degrees(t.left_right)),
            ("straightness", t.straightness.map(|s| Limits::at_most(s.value()))),
            ("level", degrees(t.level)),
            ("cross", degrees(t.cross)),
            ("square", degrees(t.square)),
            ("spacing", t.spacing.map(Limits::values)),
        ]
    };
    for ((key, before), (_, after)) in all(old).into_iter().zip(all(new)) {
        if wider(before, after) {
            self::key(found, format!("tolerance.{key}"));
        }
    }
}

fn rule(old: &Plan, new: &Plan, found: &mut Found) {
    if new.rule.level < old.rule.level {
        self::key(found, "rule.level");
    }
    if old.rule.acceptance == Acceptance::Guarded && new.rule.acceptance == Acceptance::Simple {
        self::key(found, "rule.acceptance");
    }
    let lower = match (old.rule.max_order, new.rule.max_order) {
        (Some(before), Some(after)) => after < before,
        (None, Some(_)) => true,
        (_, None) => false,
    };
    if lower {
        self::key(found, "rule.max_order");
    }
}

fn parts(old: &Plan, new: &Plan, found: &mut Found) {
    for before in &old.spots {
        let Some(after) = new.spot(&before.name) else { continue };
        let below = |l: Limits<f64>| Limits { lower: l.lower, upper: None };
        let above = |l: Limits<f64>| Limits { lower: None, upper: l.upper };
        let sides = [
            ("lower", before.limits.map(below), after.limits.map(below)),
            ("upper", before.limits.map(above), after.limits.map(above)),
        ];
        for (name, before_side, after_side) in sides {
            if wider(before_side, after_side) {
                self::key(found, format!("spot.{}.{name}", before.name));
            }
        }
    }
    if let Some(before) = &old.shaft {
        let least = |c: Option<quantity::Millimetres>| c.map(|c| Limits::at_least(c.value()));
        if wider(least(before.clearance), new.shaft.as_ref().and_then(|s| least(s.clearance))) {
            self::key(found, "shaft.clearance");
        }
    }
}

fn stages(old: &Plan, new: &Plan, found: &mut Found) {
    for before in &old.stages {
        let Some(after) = new.stages.iter().find(|s| s.name == before.name) else { continue };
        let points = [
            ("requires", &before.requires, &after.requires),
            ("disturbs", &before.disturbs, &after.disturbs),
        ];
        for (key, were, are) in points {
            if were.iter().any(|point| !are.contains(point)) {
                self::key(found, format!("stage.{}.{key}", before.name));
            }
        }
        if before.open.iter().any(|item| !after.open.contains(item)) {
            self::key(found, format!("stage.{}.open", before.name));
        }
    }
    let order = |plan: &Plan, other: &Plan| -> Vec<String> {
        let kept = plan.stages.iter().filter(|s| other.stages.iter().any(|o| o.name == s.name));
        kept.map(|s| s.name.clone()).collect()
    };
    let (before, after) = (order(old, new), order(new, old));
    if before != after {
        said(found, "order of stages", before.join(", "), Some(after.join(", ")));
    }
    if let (Some(was), Some(now)) = (old.closing_stage(), new.closing_stage())
        && new.stage_place(&was.name) > new.closing_place()
    {
        said(found, "closing stage", was.name.clone(), Some(now.name.clone()));
    }
}
