//! Every point of the plan: its value, whether it is fresh, and the verdict by which it counts.

use super::Estimates;
use crate::history::{Fold, Used};
use crate::obligation::Feeds;
use crate::parts;
use crate::view::{
    Assessment, Finding, Judged, JudgedBy, ObligationKind as K, PointState, PointView, ShownReading, Twist,
    TwistTest, Verdict,
};
use quantity::Kind;
use record::Point;
use record::plan::{Plan, Spot};
use record::point::Judgement;
use std::collections::{BTreeMap, BTreeSet};

/// What the judgement behind a point says about it.
#[derive(Clone, Default)]
struct Ruling {
    verdict: Option<Verdict>,
    by: Option<JudgedBy>,
    probability: Option<f64>,
    decide: Option<String>,
}

impl Ruling {
    fn of(by: JudgedBy, judged: &Judged) -> Self {
        let Judged { verdict, probability, decide, .. } = judged.clone();
        Self { verdict, by: Some(by), probability, decide }
    }

    fn put_into(self, view: &mut PointView) {
        view.verdict = self.verdict;
        view.judged_by = self.by;
        view.probability = self.probability;
        view.decide = self.decide;
    }
}

pub(super) fn points(
    plan: &Plan,
    fold: &Fold<'_>,
    estimates: &Estimates,
    so_far: &Assessment,
) -> Vec<PointView> {
    let required: BTreeSet<&Point> =
        fold.stage.and_then(|i| plan.stages.get(i)).map(|s| s.requires.iter().collect()).unwrap_or_default();
    let rulings = Rulings::of(plan, so_far);
    let view = |point: Point| {
        let mut view =
            PointView { required: required.contains(&point), ..bare(plan, fold, estimates, &point) };
        if fold.points.contains_key(&point) {
            let spot = spot(plan, &point);
            let ruling = match spot.map(|spot| (spot, parts::spot(plan, spot, &estimates.values))) {
                Some((spot, judged)) => {
                    judged.map(|j| Ruling::of(JudgedBy::new(K::Spot, &spot.name), &j)).unwrap_or_default()
                }
                None => rulings.for_point(&point),
            };
            ruling.put_into(&mut view);
            doubt(&mut view, &point, estimates);
        }
        match view.state {
            PointState::Missing => view.verdict = Some(Verdict::Missing),
            PointState::Stale => view.verdict = Some(Verdict::Stale),
            PointState::Fresh => {}
        }
        view
    };
    plan.points().into_iter().map(view).collect()
}

/// Gives points the verdicts of what they contribute to, once these are settled. A fresh reading of something that
/// lacks other readings, or has stale ones, has no verdict yet.
pub(super) fn settle(plan: &Plan, out: &mut Assessment) {
    let rulings = Rulings::of(plan, out);
    let judged = |p: &&mut PointView| p.state == PointState::Fresh && p.verdict.is_some();
    for p in out.points.iter_mut().filter(judged) {
        let ruling = rulings.for_point(&p.point);
        match ruling.verdict {
            Some(Verdict::Missing | Verdict::Stale) => (p.verdict, p.probability) = (None, None),
            worse if worse > p.verdict => ruling.put_into(p),
            _ => {}
        }
    }
}

/// Points still wanted: required ones without a fresh reading, and those to measure again; in plan order.
pub(super) fn wanted(assessment: &Assessment) -> Vec<Point> {
    let again: BTreeSet<&str> = assessment
        .twist
        .iter()
        .flat_map(|t| &t.stations)
        .filter(|s| s.remeasure)
        .map(|s| s.name.as_str())
        .collect();
    assessment
        .points
        .iter()
        .filter(|p| {
            let station = p.judged_by.as_ref().filter(|by| by.kind == K::Station);
            (p.required && p.state != PointState::Fresh)
                || station.is_some_and(|by| again.contains(by.about.as_str()))
        })
        .map(|p| p.point.clone())
        .collect()
}

/// What was read at a point and what it gives, before anything is judged.
fn bare(plan: &Plan, fold: &Fold<'_>, estimates: &Estimates, point: &Point) -> PointView {
    let read = fold.points.get(point).filter(|f| !f.used.is_empty());
    let used = read.map_or(&[][..], |f| f.used.as_slice());
    let last = used.last();
    let stale_because = read.and_then(|f| f.stale.clone());
    let measured = estimates.values.get(point);
    // Limits of the value itself: only a spot check has them.
    let limits = spot(plan, point).and_then(|s| s.limits);
    let shown = |used: &Used| ShownReading {
        entry: used.seq,
        value: used.reading.value,
        resolution: used.reading.resolution,
        facing: used.reading.facing,
        temperature_c: used.reading.temperature.map(|t| t.value()),
    };
    PointView {
        point: point.clone(),
        required: false,
        state: match (last, &stale_because) {
            (None, _) => PointState::Missing,
            (Some(_), Some(_)) => PointState::Stale,
            (Some(_), None) => PointState::Fresh,
        },
        unit: plan.quantity_of(point).unwrap_or(Kind::Length),
        design: plan.design_of(point),
        value: measured.map(|m| m.estimate.value),
        u: measured.map(|m| m.estimate.u()),
        u_own: measured.map(|m| m.estimate.own),
        u_shared: measured.map(|m| m.estimate.shared_u()),
        lower: limits.and_then(|l| l.lower),
        upper: limits.and_then(|l| l.upper),
        verdict: None,
        judged_by: None,
        probability: None,
        decide: None,
        instrument: last.and_then(|u| u.reading.instrument.clone()),
        round: last.map(|u| u.reading.round),
        readings: used.len(),
        reversed: measured.is_some_and(|m| m.reversed),
        facing_wanted: measured.and_then(|m| m.facing_wanted),
        at: last.map(|u| u.at.to_string()),
        by: last.map(|u| u.by.clone()),
        stale_because,
        entries: used.iter().map(|u| u.seq).collect(),
        when: last.map(|u| fold.written.when(u.seq, u.at).to_string()),
        behind: used.iter().map(shown).collect(),
    }
}

/// The spot check that a point is.
fn spot<'p>(plan: &'p Plan, point: &Point) -> Option<&'p Spot> {
    if point.kind().row().judgement == Judgement::OwnLimits { plan.spot(point.place()) } else { None }
}

/// A doubtful reading, or one that gives no value, proves nothing.
fn doubt(view: &mut PointView, point: &Point, estimates: &Estimates) {
    if let Some(why) = estimates.unusable.get(point) {
        view.verdict = Some(Verdict::CannotJudge);
        view.probability = None;
        view.decide = Some(why.to_string());
    } else if let Some(doubt) = estimates.values.get(point).and_then(|m| m.doubts.first())
        && view.verdict.is_some()
    {
        view.verdict = Some(Verdict::Doubtful);
        view.decide = Some(format!("{doubt}; {}", doubt.settles()));
    }
}

/// The stations in doubt and why: by their own readings, or by a test of the profile whose outcome cannot be chance.
pub(super) fn doubted(plan: &Plan, estimates: &Estimates, tests: &[TwistTest]) -> BTreeMap<String, String> {
    let feeds = |p: &Point| p.kind().row().judgement == Judgement::Twist;
    let mut doubts: BTreeMap<String, String> = BTreeMap::new();
    for (point, measured) in estimates.values.iter().filter(|(p, _)| feeds(p)) {
        if let Some(doubt) = measured.doubts.first() {
            let words = format!("{doubt}; {}", doubt.settles());
            doubts.entry(point.place().to_owned()).or_insert(words);
        }
    }
    for test in tests.iter().filter(|t| t.p < estimates.level) {
        let all = || plan.stations.iter().map(|s| s.name.clone());
        let about: Vec<String> = if test.about.is_empty() { all().collect() } else { test.about.clone() };
        about.into_iter().for_each(|station| _ = doubts.entry(station).or_insert(test.words.clone()));
    }
    doubts
}

/// The twist with these doubts: of a station its own, of the whole those of all.
pub(super) fn doubted_twist(plan: &Plan, estimates: &Estimates, mut twist: Twist) -> Twist {
    let doubts = doubted(plan, estimates, &twist.tests);
    if let Some(first) = doubts.values().next() {
        let whole = [&mut twist.setting, &mut twist.washout_error];
        for found in whole.into_iter().chain(twist.neighbours.iter_mut().map(|s| &mut s.finding)) {
            if let Finding::Judged(judged) = found
                && judged.verdict.is_some()
            {
                judged.verdict = Some(Verdict::Doubtful);
                judged.decide = Some(first.clone());
            }
        }
    }
    for station in &mut twist.stations {
        if let (Some(doubt), Some(_)) = (doubts.get(&station.name), station.verdict) {
            station.verdict = Some(Verdict::Doubtful);
            station.decide = Some(doubt.clone());
        } else if let Some(planned) = plan.station(&station.name)
            && let Some(why) = crate::incidence::impossible(plan, planned, &estimates.values)
        {
            station.verdict = Some(why.verdict());
            station.why = Some(why);
        }
    }
    twist.doubted = doubts;
    twist
}

/// The worst verdict of what the present stage requires; `None` before the first stage.
pub(super) fn stage_verdict(fold: &Fold<'_>, a: &Assessment) -> Option<Verdict> {
    fold.stage?;
    let required = || a.points.iter().filter(|p| p.required);
    let points = required().filter_map(|p| p.verdict);
    let twisted = required().any(|p| p.point.kind().row().judgement == Judgement::Twist);
    let whole = a.twist.iter().filter(|_| twisted).flat_map(Twist::findings).filter_map(Finding::verdict);
    // For the gate, what the curve does not reach is missing; for a stage, only its points are.
    let whole = whole.filter(|v| *v != Verdict::Missing);
    Some(points.chain(whole).max().unwrap_or(Verdict::Within))
}

/// The judgements that apply to points.
struct Rulings<'p> {
    found: BTreeMap<JudgedBy, Ruling>,
    feeds: Feeds<'p>,
}

impl<'p> Rulings<'p> {
    fn of(plan: &'p Plan, a: &Assessment) -> Self {
        let judged = a.judged().map(|one| Ruling::of(JudgedBy::new(one.kind, one.about), one.judged));
        let unjudged = a.unjudged.iter().map(|u| Ruling {
            verdict: Some(Verdict::CannotJudge),
            by: Some(u.judged_by.clone()),
            probability: None,
            decide: Some(u.why.to_string()),
        });
        let stations = a.twist.iter().flat_map(|t| &t.stations).map(|s| Ruling {
            verdict: s.verdict,
            by: Some(JudgedBy::new(K::Station, &s.name)),
            probability: s.probability,
            decide: s.decide.clone(),
        });
        let all = judged.chain(unjudged).chain(stations);
        let found = all.filter_map(|ruling| Some((ruling.by.clone()?, ruling))).collect();
        Self { found, feeds: Feeds::of(plan) }
    }

    /// The worst verdict of what a point is evidence for; for the twist, that of its own station.
    fn for_point(&self, point: &Point) -> Ruling {
        let things = self.feeds.by(point);
        let found = things.iter().filter_map(|by| self.found.get(by));
        found.max_by_key(|ruling| ruling.verdict).cloned().unwrap_or_default()
    }
}
