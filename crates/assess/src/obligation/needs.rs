//! The points a judgement rests on, by the plan.

use super::span::Span;
use crate::history::Fold;
use crate::view::{JudgedBy, ObligationKind as K};
use record::Point;
use record::plan::Plan;
use record::point::Judgement;
use std::collections::BTreeMap;

/// What every point of a plan is evidence for.
pub struct Feeds<'p> {
    plan: &'p Plan,
    bays: BTreeMap<&'p str, &'p str>,
    /// The rigged things that rest on each point.
    rigged: BTreeMap<Point, Vec<String>>,
}

impl<'p> Feeds<'p> {
    pub fn of(plan: &'p Plan) -> Self {
        let bays = plan.bays.iter().flat_map(|b| b.diagonals.iter().map(|d| (d.as_str(), b.name.as_str())));
        let mut rigged: BTreeMap<Point, Vec<String>> = BTreeMap::new();
        for check in plan.rig_checks() {
            for point in check.points {
                rigged.entry(point).or_default().push(check.name.clone());
            }
        }
        Self { plan, bays: bays.collect(), rigged }
    }

    /// What a point is evidence for.
    pub fn by(&self, point: &Point) -> Vec<JudgedBy> {
        let place = point.place();
        let named = |kind: K, name: Option<&str>| name.map(|n| JudgedBy::new(kind, n)).into_iter().collect();
        match point.kind().row().judgement {
            Judgement::Level => vec![JudgedBy::new(K::Level, place)],
            Judgement::Cross => vec![JudgedBy::new(K::Cross, place)],
            Judgement::Square => named(K::Square, self.bays.get(place).copied()),
            Judgement::Spacing => vec![JudgedBy::new(K::Spacing, place)],
            Judgement::Straightness => named(K::Straightness, point.spar()),
            Judgement::Twist => {
                let all = [(K::Station, place)].into_iter().chain(K::OF_PROFILE);
                all.map(|(kind, about)| JudgedBy::new(kind, about)).collect()
            }
            Judgement::Clearance => named(K::Clearance, self.plan.shaft.as_ref().map(|s| s.name.as_str())),
            Judgement::Rigging => {
                let names = self.rigged.get(point).into_iter().flatten();
                names.map(|name| JudgedBy::new(K::Rigging, name)).collect()
            }
            Judgement::OwnLimits => vec![JudgedBy::new(K::Spot, place)],
        }
    }
}

/// The points that each judged thing rests on.
pub struct Needs(BTreeMap<JudgedBy, Vec<Point>>);

impl Needs {
    /// For a plan. If points are alternatives (a station's angle, or heights of two spars), a thing rests on those
    /// required by the last stage that requires any; if none does, on those of the kind that was read, or else of the
    /// first.
    pub fn of(plan: &Plan, fold: &Fold<'_>, feeds: &Feeds<'_>, span: Span) -> Self {
        let mut required: BTreeMap<JudgedBy, (usize, Vec<Point>)> = BTreeMap::new();
        for (i, stage) in span.placed(plan).rev() {
            for point in &stage.requires {
                for thing in feeds.by(point) {
                    let (by, points) = required.entry(thing).or_insert_with(|| (i, Vec::new()));
                    if *by == i {
                        points.push(point.clone());
                    }
                }
            }
        }
        let mut all: BTreeMap<JudgedBy, Vec<Point>> = BTreeMap::new();
        for point in plan.points() {
            for thing in feeds.by(&point) {
                all.entry(thing).or_default().push(point.clone());
            }
        }
        for (thing, points) in &mut all {
            if has_alternatives(thing.kind) {
                match required.remove(thing) {
                    Some((_, required)) => *points = required,
                    None => of_one_kind(points, fold),
                }
            }
        }
        Self(all)
    }

    /// The points that one thing rests on; empty if the plan has none that could tell.
    pub fn points(&self, kind: K, about: &str) -> Vec<Point> {
        self.0.get(&JudgedBy::new(kind, about)).cloned().unwrap_or_default()
    }
}

/// Whether several kinds of point can each tell it alone.
const fn has_alternatives(kind: K) -> bool {
    matches!(kind, K::Station | K::Setting | K::Washout | K::Neighbour | K::Straightness)
}

fn of_one_kind(points: &mut Vec<Point>, fold: &Fold<'_>) {
    let read = |p: &&Point| fold.points.contains_key(*p);
    let kind = points.iter().find(read).or(points.first()).map(Point::kind);
    points.retain(|p| Some(p.kind()) == kind);
}
