//! Reads the stages of the build and the rework rules, and turns their patterns into points.

use super::checks::Names;
use super::mistake::{Mistake, Table};
use super::patterns::{Parts, Patterns};
use crate::plan::{Plan, ReworkRule, Stage};
use quantity::table::Written;

/// Adds stages, rework rules and record-only points to the plan. If parts of the plan could not be read, a pattern
/// that matches nothing is not reported.
pub fn read_into(plan: &mut Plan, root: &Table<'_, '_>, parts: Parts, names: &mut Names<'_>) {
    let mut patterns = Patterns::of(plan, parts, root.mistakes());
    let record_only = patterns.expand(root.texts("record_only"));
    let stages = root.list("stage", "a [[stage]]", |t| stage(t, &mut patterns, names));
    let reworks = root.list("rework", "a [[rework]]", |t| rework(t, &mut patterns));
    check_closing(root, &stages);
    plan.record_only = record_only;
    plan.stages = stages;
    plan.reworks = reworks;
}

/// Checks that at most one stage closes the wing.
fn check_closing(root: &Table<'_, '_>, stages: &[Stage]) {
    let mut closing = stages.iter().enumerate().filter(|(_, s)| s.closes);
    if let (Some((_, first)), Some((place, second))) = (closing.next(), closing.next())
        && stages.len() == root.count("stage")
    {
        let two = Mistake::TwoClose { first: first.name.clone(), second: second.name.clone() };
        root.mistakes().note(root.span_of("stage", place, "closes"), two, None);
    }
}

fn rework(t: &Table<'_, '_>, patterns: &mut Patterns<'_>) -> Option<ReworkRule> {
    for (key, right) in [
        ("of", "write of = [POINT, ..]: what is worked on"),
        ("stales", "write stales = [POINT, ..]: what goes stale"),
    ] {
        t.wants(key, right);
    }
    Some(ReworkRule { of: patterns.expand(t.texts("of")), stales: patterns.expand(t.texts("stales")) })
}

fn stage(t: &Table<'_, '_>, patterns: &mut Patterns<'_>, names: &mut Names<'_>) -> Option<Stage> {
    let name = names.take("stage", t.name("name"));
    let requires = patterns.expand(t.texts("requires"));
    let disturbs = patterns.expand(t.texts("disturbs"));
    let mut open: Vec<String> = Vec::new();
    for Written { text: item, span } in t.texts("open") {
        if open.contains(&item) {
            t.mistakes().note(span, Mistake::ListedTwice, None);
        } else {
            open.push(item);
        }
        if open.len() > Plan::MAX_ITEMS / 10 {
            t.missing("end of `open`", "a stage can leave at most 1000 things open");
            break;
        }
    }
    let closes = t.flag("closes").unwrap_or(false);
    Some(Stage { name: name?, requires, disturbs, open, closes })
}
