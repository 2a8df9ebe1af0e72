//! Everything that must be proven before the skins close, from the plan and the log alone. Verdicts play no part
//! here, so a judgement that fails to appear cannot remove its obligation.

use super::needs::{Feeds, Needs};
use super::owed::{By, Lacks, Owed};
use super::span::Span;
use crate::history::{Claim, Fold, OpenState, PlanChange};
use crate::view::{JudgedBy, ObligationKind as K};
use record::Point;
use record::plan::Plan;
use record::point::Design;
use std::collections::BTreeSet;

/// Everything that must be proven, in the order of the sheet's board. Before closing: every tolerance, except of what
/// can only be measured afterwards. After closing: what its stages require, and no other tolerance.
pub fn obligations(plan: &Plan, fold: &Fold<'_>, span: Span) -> Vec<Owed> {
    let mut out = Vec::new();
    stages(plan, span, &mut out);
    let feeds = Feeds::of(plan);
    let mut judged = judged(plan, &Needs::of(plan, fold, &feeds, span));
    if span == Span::ToClosing {
        let later = only_later(plan);
        let due = |points: &[Point]| !points.iter().any(|p| later.contains(p));
        judged.retain(|owed| match &owed.by {
            By::Judgement(points) if matches!(owed.kind, K::Spot | K::Rigging) => due(points),
            _ => true,
        });
        let wings = plan.rigging.wings.iter();
        judged.extend(wings.map(|w| Owed {
            kind: K::Rigging,
            about: w.about(),
            by: By::Wing(w.name.clone()),
        }));
    } else {
        let asked: BTreeSet<JudgedBy> =
            span.stages(plan).iter().flat_map(|s| &s.requires).flat_map(|p| feeds.by(p)).collect();
        judged.retain(|owed| asked.contains(&JudgedBy::new(owed.kind, &owed.about)));
    }
    let asks = !judged.is_empty();
    let points = points(plan, span, &feeds, &judged);
    out.extend(judged);
    out.extend(points);
    for (name, known) in fold.instruments.iter() {
        if known.last_reading.is_some() {
            out.push(Owed { kind: K::Instrument, about: name.to_owned(), by: By::Instrument });
        }
    }
    open_items(plan, fold, span, &mut out);
    for (about, by) in [(super::CHAIN, By::Chain), ("signatures", By::Signatures), ("plan", By::Plan)] {
        out.push(Owed { kind: K::Record, about: about.to_owned(), by });
    }
    if !asks && span == Span::ToClosing {
        let by = By::Nothing(Lacks::Tolerances);
        out.push(Owed { kind: K::Record, about: "tolerances".to_owned(), by });
    }
    out.sort_by_key(|o| o.kind);
    out
}

/// The points required only by stages after the closing one: what rests on them is owed there, for example what a
/// couple does to the closed cell.
fn only_later(plan: &Plan) -> BTreeSet<&Point> {
    let required = |span: Span| span.stages(plan).iter().flat_map(|s| &s.requires).collect::<BTreeSet<_>>();
    let before = required(Span::ToClosing);
    required(Span::AfterClosing).into_iter().filter(|p| !before.contains(p)).collect()
}

fn stages(plan: &Plan, span: Span, out: &mut Vec<Owed>) {
    for (i, stage) in span.placed(plan) {
        out.push(Owed { kind: K::Stage, about: stage.name.clone(), by: By::Begun(i) });
    }
    if plan.stages.is_empty() {
        let by = By::Nothing(Lacks::Stages);
        out.push(Owed { kind: K::Stage, about: "stages".to_owned(), by });
    }
}

/// Every tolerance of the plan, for everything it applies to.
fn judged(plan: &Plan, needs: &Needs) -> Vec<Owed> {
    let mut out = Vec::new();
    let record_only: BTreeSet<&Point> = plan.record_only.iter().collect();
    let t = &plan.tolerances;
    let mut each = |kind: K, wanted: bool, names: Vec<&str>, none: &'static str| {
        if !wanted {
            return;
        }
        if names.is_empty() {
            out.push(Owed { kind, about: none.to_owned(), by: By::Nothing(Lacks::Thing(none)) });
        }
        let (all, before) = (names.len(), out.len());
        for name in names {
            let points = needs.points(kind, name);
            // What the plan marks as record-only is not judged.
            if points.is_empty() || !points.iter().all(|p| record_only.contains(p)) {
                out.push(Owed::judged(kind, name, points));
            }
        }
        if all > 0 && out.len() == before {
            out.push(Owed { kind, about: none.to_owned(), by: By::Nothing(Lacks::Judged(none)) });
        }
    };
    let posts = || plan.posts.iter().map(|p| p.name.as_str()).collect();
    each(K::Level, t.level.is_some(), posts(), "post");
    each(K::Cross, t.cross.is_some(), posts(), "post");
    each(K::Setting, t.setting.is_some(), vec!["setting"], "station");
    each(K::Washout, t.washout.is_some(), vec!["washout error"], "station");
    each(K::Neighbour, t.neighbour.is_some(), vec!["steps"], "station");
    let stations = || plan.stations.iter().map(|s| s.name.as_str());
    each(K::Station, t.station.is_some(), stations().collect(), "station");
    let spars = plan.spars.iter().map(|s| s.name.as_str()).collect();
    each(K::Straightness, t.straightness.is_some(), spars, "spar");
    // The station at the root datum has no distance from it.
    let away = plan.stations.iter().filter(|s| s.span != plan.wing.root).map(|s| s.name.as_str()).collect();
    each(K::Spacing, t.spacing.is_some(), away, "station");
    let bays = plan.bays.iter().map(|b| b.name.as_str()).collect();
    each(K::Square, t.square.is_some(), bays, "bay");
    let shaft = plan.shaft.iter().filter(|s| s.clearance.is_some()).map(|s| s.name.as_str());
    shaft.for_each(|name| each(K::Clearance, true, vec![name], "bush"));
    let rigged = plan.rig_checks();
    let rigged = rigged.iter().filter(|c| c.has_limits()).map(|c| c.name.as_str());
    rigged.for_each(|name| each(K::Rigging, true, vec![name], "thing rigged"));
    let spots = plan.spots.iter().filter(|s| s.limits.is_some()).map(|s| s.name.as_str());
    each(K::Spot, plan.spots.iter().any(|s| s.limits.is_some()), spots.collect(), "spot");
    out
}

/// The points that a stage requires and nothing judges.
fn points(plan: &Plan, span: Span, feeds: &Feeds<'_>, judged: &[Owed]) -> Vec<Owed> {
    let fed: BTreeSet<(K, &str)> = judged.iter().map(|o| (o.kind, o.about.as_str())).collect();
    let feeds = |point: &Point| feeds.by(point).iter().any(|by| fed.contains(&(by.kind, by.about.as_str())));
    let record_only: BTreeSet<&Point> = plan.record_only.iter().collect();
    let required: Vec<&Point> = span.stages(plan).iter().flat_map(|s| &s.requires).collect();
    let mut seen = BTreeSet::new();
    required
        .into_iter()
        .filter(|p| seen.insert(*p) && !record_only.contains(p) && !feeds(p) && !is_datum(plan, p))
        .map(|p| Owed { kind: K::Point, about: p.to_string(), by: By::Limit(p.clone()) })
        .collect()
}

/// Whether it is the distance of the root datum from itself, which cannot be measured.
fn is_datum(plan: &Plan, point: &Point) -> bool {
    point.kind().row().design == Design::Distance
        && plan.tolerances.spacing.is_some()
        && plan.station(point.place()).is_some_and(|s| s.span == plan.wing.root)
}

fn open_items(plan: &Plan, fold: &Fold<'_>, span: Span, out: &mut Vec<Owed>) {
    let mut seen = BTreeSet::new();
    let mut owe = |item: &str, by: By| {
        if seen.insert(item.to_owned()) {
            out.push(Owed { kind: K::OpenItem, about: item.to_owned(), by });
        }
    };
    let loosened = || fold.editions.iter().rev().flat_map(|e| e.changes.iter().filter(|c| c.looser));
    // The latest first: one that was taken back and made again must be carried past again.
    for change in loosened().filter(|c| !c.taken_back) {
        owe(&change.words(), By::Carried(change.entry));
    }
    let claims = || fold.instruments.iter().flat_map(|(_, known)| known.claims_used());
    let mut latest: Vec<&Claim> = claims().collect();
    latest.sort_by_key(|claim| core::cmp::Reverse(claim.seq));
    for claim in latest {
        owe(&claim.item, By::Carried(claim.seq));
    }
    // Logs of earlier programs hold an open item for each; the plan itself says whether it still applies.
    let of_plans: BTreeSet<String> = loosened().map(PlanChange::words).collect();
    for (i, stage) in span.placed(plan) {
        stage.open.iter().for_each(|item| owe(item, By::Closed(Some(i))));
    }
    // What a stage of the other part leaves open is settled there.
    let elsewhere = |stage: Option<&str>| {
        let stage = stage.and_then(|name| plan.stage(name));
        stage.is_some_and(|stage| !span.stages(plan).contains(stage))
    };
    let by_hand = |o: &&OpenState| !elsewhere(o.stage.as_deref()) && !of_plans.contains(&o.last.what.item);
    for open in fold.open.iter().filter(by_hand) {
        owe(&open.last.what.item, By::Closed(None));
    }
}
