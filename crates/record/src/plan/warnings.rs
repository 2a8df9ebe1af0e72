//! What a plan asks for and can never prove, and where it has too few stations.

use super::Attitude;
use super::{Plan, RigCheck, Symmetry};
use crate::point::Judgement;
use crate::{Point, PointKind};
use std::collections::{BTreeMap, BTreeSet};

/// Something that is not a mistake in a plan but will cost its builder.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PlanWarning {
    /// `wanted` is what a stage's `requires` would have to contain.
    #[error(
        "the plan states tolerance.{key}, but no stage up to the closing one requires what it needs ({wanted}): the gate can never \
         be clear"
    )]
    NeverMeasured { key: &'static str, wanted: &'static str },
    #[error("the plan states tolerances but has no stages, so nothing is ever required")]
    NoStages,
    /// `root` or `tip`.
    #[error(
        "only one station shows the {end}. A dent there would look like {}. Measure a second one within 5 % of the span",
        if *.end == "root" { "setting" } else { "washout" }
    )]
    OneStationAt { end: &'static str },
    #[error(
        "the wing stands on edge, where heights of the spars give no profile: measure plumb distances, or incidence"
    )]
    HeightsOnEdge,
    /// The things that depend on the point: one by name, and how many more.
    #[error(
        "no stage requires {point}, which {name}{} needs: nobody is asked to measure it, and the gate holds until it is measured",
        if *.more == 0 { String::new() } else { format!(" and {more} more") }
    )]
    NoStageAsks { point: Point, name: String, more: usize },
    /// A symmetry whose yaw or offset has limits.
    #[error(
        "{name} has one pair of distances, which cannot tell a turned wing from a mark off centre: add those from a second \
         mark, well ahead of or behind the first"
    )]
    OnePair { name: String },
    /// A tolerance, and the finest instrument of the plan.
    #[error(
        "{what} is too narrow for every instrument of the plan, also for {instrument}: however often it is read, nothing can be proven \
         to lie within. Check the figure, or enter a finer instrument"
    )]
    TooFine { what: String, instrument: String },
    #[error(
        "plumb distances are required, but the plan does not say which surface the lines hang beside. The lower one is assumed, as \
         with [wing] plumb_side = \"lower\"; \"upper\" reverses the sign of the twist"
    )]
    PlumbSide,
}

/// Stations within this distance of each other, in mm, are places on one rib, which is rarely narrower than its flange. Common
/// practice, no source.
const ONE_RIB: f64 = 10.0;

/// One place for each rib, by position in the list: those beside it on the same rib are left out. `spans` grow, in mm.
pub fn one_a_rib(spans: impl IntoIterator<Item = f64>) -> Vec<usize> {
    let (mut last, mut ribs) = (f64::NEG_INFINITY, Vec::new());
    for (i, span) in spans.into_iter().enumerate() {
        if span - last > ONE_RIB {
            last = span;
            ribs.push(i);
        }
    }
    ribs
}

impl Plan {
    /// Everything a person should know about this plan before building to it.
    #[must_use]
    pub fn warnings(&self) -> Vec<PlanWarning> {
        let mut all = Vec::new();
        self.never_measured(&mut all);
        for (end, datum) in [("root", self.wing.root), ("tip", self.wing.tip)] {
            let reach = 0.05 * (self.wing.tip - self.wing.root).value();
            let spans = self.stations.iter().map(|s| s.span.value());
            let near = one_a_rib(spans.filter(|s| (s - datum.value()).abs() <= reach));
            // With fewer than five stations there is no curve that a dent could spoil.
            if near.len() == 1 && self.stations.len() >= 5 {
                all.push(PlanWarning::OneStationAt { end });
            }
        }
        let on_edge = self.wing.attitude != Attitude::ChordLevel;
        let heights = |p: &Point| on_edge && p.kind() == PointKind::Height;
        let direct = |p: &Point| p.kind().row().judgement == Judgement::Twist && !heights(p);
        let required = || self.stages.iter().flat_map(|s| &s.requires);
        if required().any(heights) && !required().any(direct) {
            all.push(PlanWarning::HeightsOnEdge);
        }
        if on_edge && self.wing.plumb.is_none() && required().any(|p| p.kind() == PointKind::Plumb) {
            all.push(PlanWarning::PlumbSide);
        }
        self.rigged(&mut all);
        self.too_fine(&mut all);
        all
    }

    fn rigged(&self, all: &mut Vec<PlanWarning>) {
        let required: BTreeSet<&Point> = self.stages.iter().flat_map(|s| &s.requires).collect();
        let mut unasked: BTreeMap<Point, Vec<String>> = BTreeMap::new();
        for check in self.rig_checks().into_iter().filter(RigCheck::has_limits) {
            for point in check.points.into_iter().filter(|p| !required.contains(p)) {
                unasked.entry(point).or_default().push(check.name.clone());
            }
        }
        all.extend(unasked.into_iter().filter_map(|(point, names)| {
            let more = names.len() - 1;
            Some(PlanWarning::NoStageAsks { point, name: names.into_iter().next()?, more })
        }));
        let limited = |s: &&Symmetry| s.pairs.len() == 1 && (s.yaw.is_some() || s.offset.is_some());
        let alone = self.rigging.symmetries.iter().filter(limited);
        all.extend(alone.map(|s| PlanWarning::OnePair { name: s.name.clone() }));
    }

    fn never_measured(&self, all: &mut Vec<PlanWarning>) {
        let t = &self.tolerances;
        let asked: [(&str, bool, Judgement, &str); 9] = [
            ("setting", t.setting.is_some(), Judgement::Twist, "incidence@*"),
            ("washout", t.washout.is_some(), Judgement::Twist, "incidence@*"),
            ("station", t.station.is_some(), Judgement::Twist, "incidence@*"),
            ("neighbour", t.neighbour.is_some(), Judgement::Twist, "incidence@*"),
            ("straightness", t.straightness.is_some(), Judgement::Straightness, "offset@*"),
            ("level", t.level.is_some(), Judgement::Level, "level@*"),
            ("cross", t.cross.is_some(), Judgement::Cross, "cross@*"),
            ("square", t.square.is_some(), Judgement::Square, "diagonal@*"),
            ("spacing", t.spacing.is_some(), Judgement::Spacing, "spacing@*"),
        ];
        if self.stages.is_empty() {
            if asked.iter().any(|(_, stated, ..)| *stated) {
                all.push(PlanWarning::NoStages);
            }
            return;
        }
        let closing = self.closing_place().unwrap_or(0);
        let required = self.stages.iter().take(closing + 1).flat_map(|s| &s.requires);
        let judged: BTreeSet<Judgement> = required.map(|p| p.kind().row().judgement).collect();
        for (key, stated, judgement, wanted) in asked {
            if stated && !judged.contains(&judgement) {
                all.push(PlanWarning::NeverMeasured { key, wanted });
            }
        }
        // Setting and washout are of the wing: no station is owed for them.
        let of_each =
            asked.iter().filter(|(key, stated, ..)| *stated && !["setting", "washout"].contains(key));
        let stated = of_each.map(|(.., judgement, _)| *judgement);
        self.unasked(&stated.filter(|judgement| judged.contains(judgement)).collect(), all);
        let clearance = self.shaft.as_ref().is_some_and(|s| s.clearance.is_some());
        if clearance && !judged.contains(&Judgement::Clearance) {
            all.push(PlanWarning::NeverMeasured {
                key: "clearance",
                wanted: "bore@*, bore-aft@*, bore-up@*",
            });
        }
    }

    /// Spars, posts and stations that no stage asks for, where it asks for others: what is stated of them is owed nevertheless.
    fn unasked(&self, judgements: &BTreeSet<Judgement>, all: &mut Vec<PlanWarning>) {
        let closing = self.closing_place().unwrap_or(0);
        let required: BTreeSet<&Point> =
            self.stages.iter().take(closing + 1).flat_map(|s| &s.requires).collect();
        let mut things: BTreeMap<Judgement, BTreeMap<String, Thing>> = BTreeMap::new();
        for point in self.points() {
            let judgement = point.kind().row().judgement;
            let (what, of) = match (judgement, point.spar()) {
                (Judgement::Straightness, Some(spar)) => ("straightness", spar),
                (Judgement::Twist, _) => ("twist", point.place()),
                (Judgement::Level, _) => ("level", point.place()),
                (Judgement::Cross, _) => ("cross level", point.place()),
                (Judgement::Spacing, _) if !self.at_root(&point) => ("spacing", point.place()),
                _ => continue,
            };
            if judgements.contains(&judgement) {
                let asked = required.contains(&point);
                let new = || Thing { name: format!("{what} of {of}"), asked, point: point.clone() };
                things.entry(judgement).or_default().entry(of.to_owned()).or_insert_with(new).asked |= asked;
            }
        }
        for things in things.into_values() {
            let mut unasked = things.into_values().filter(|thing| !thing.asked);
            if let Some(Thing { name, point, .. }) = unasked.next() {
                all.push(PlanWarning::NoStageAsks { point, name, more: unasked.count() });
            }
        }
    }

    fn at_root(&self, point: &Point) -> bool {
        self.stations.iter().any(|s| s.name == point.place() && s.span == self.wing.root)
    }
}

/// Something judged.
struct Thing {
    name: String,
    /// Whether a stage requires one of its points.
    asked: bool,
    /// The first of its points.
    point: Point,
}
