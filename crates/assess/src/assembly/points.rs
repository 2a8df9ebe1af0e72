//! Every point of the plan: its value, whether it is fresh, and the verdict by which it counts.

use super::Estimates;
use crate::history::{Fold, Freshness, Used};
use crate::parts::{self, Values};
use crate::view::{
    Assessment, Finding, Judged, JudgedBy, PointState, PointView, ShownReading, Twist, Verdict,
};
use quantity::Kind;
use record::Point;
use record::plan::{Plan, Spot};
use record::point::Judgement;
use std::collections::{BTreeMap, BTreeSet};

/// Verdict, what gave it, probability, what would decide it.
type Ruling = (Option<Verdict>, Option<JudgedBy>, Option<f64>, Option<String>);

pub(super) fn points(
    plan: &Plan,
    fold: &Fold<'_>,
    estimates: &Estimates,
    so_far: &Assessment,
) -> Vec<PointView> {
    let values = &estimates.values;
    let required: BTreeSet<&Point> =
        fold.stage.and_then(|i| plan.stages.get(i)).map(|s| s.requires.iter().collect()).unwrap_or_default();
    let rulings = Rulings::of(plan, so_far);
    plan.points()
        .into_iter()
        .map(|point| {
            let unit = plan.quantity_of(&point).unwrap_or(Kind::Length);
            let mut view = bare(&point, unit, required.contains(&point));
            view.design = plan.design_of(&point);
            (view.lower, view.upper) = own_limits(plan, &point);
            match fold.points.get(&point) {
                None => {}
                Some(freshness) => {
                    fill(&mut view, freshness, fold);
                    fill_value(&mut view, &point, values);
                    let ruling = match spot(plan, &point) {
                        Some(s) => own(parts::spot(plan, s, values)),
                        None => rulings.for_point(&point),
                    };
                    (view.verdict, view.judged_by, view.probability, view.decide) = ruling;
                    doubt(&mut view, &point, estimates);
                }
            }
            match view.state {
                PointState::Missing => view.verdict = Some(Verdict::Missing),
                PointState::Stale => view.verdict = Some(Verdict::Stale),
                PointState::Fresh => {}
            }
            view
        })
        .collect()
}

/// Gives points the verdicts of what they feed as these are settled. A fresh reading of a thing that lacks others, or has stale
/// ones, has no verdict yet.
pub(super) fn settle(plan: &Plan, out: &mut Assessment) {
    let rulings = Rulings::of(plan, out);
    let judged = |p: &&mut PointView| p.state == PointState::Fresh && p.verdict.is_some();
    for p in out.points.iter_mut().filter(judged) {
        let (verdict, by, probability, decide) = rulings.for_point(&p.point);
        match verdict {
            Some(Verdict::Missing | Verdict::Stale) => (p.verdict, p.probability) = (None, None),
            worse if worse > p.verdict => {
                (p.verdict, p.judged_by, p.probability, p.decide) = (worse, by, probability, decide);
            }
            _ => {}
        }
    }
}

/// Points still wanted: required ones without a fresh reading, and those to be measured again; in the plan's order.
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
            let station = match &p.judged_by {
                Some(JudgedBy::Station(station)) => Some(station.as_str()),
                _ => None,
            };
            (p.required && p.state != PointState::Fresh) || station.is_some_and(|s| again.contains(s))
        })
        .map(|p| p.point.clone())
        .collect()
}

fn bare(point: &Point, unit: Kind, required: bool) -> PointView {
    PointView {
        point: point.clone(),
        required,
        state: PointState::Missing,
        unit,
        design: None,
        value: None,
        u: None,
        u_own: None,
        u_shared: None,
        lower: None,
        upper: None,
        verdict: None,
        judged_by: None,
        probability: None,
        decide: None,
        instrument: None,
        round: None,
        readings: 0,
        reversed: false,
        facing_wanted: None,
        at: None,
        by: None,
        stale_because: None,
        entries: Vec::new(),
        when: None,
        behind: Vec::new(),
    }
}

/// The spot check that a point is.
fn spot<'p>(plan: &'p Plan, point: &Point) -> Option<&'p Spot> {
    if point.kind().row().judgement == Judgement::OwnLimits { plan.spot(point.place()) } else { None }
}

/// Limits of the value itself: only a spot check has them.
fn own_limits(plan: &Plan, point: &Point) -> (Option<f64>, Option<f64>) {
    let limits = spot(plan, point).and_then(|s| s.limits.as_ref());
    (limits.and_then(|l| l.lower), limits.and_then(|l| l.upper))
}

fn fill(view: &mut PointView, freshness: &Freshness, fold: &Fold<'_>) {
    let Some(last) = freshness.used.last() else { return };
    view.state = if freshness.stale.is_some() { PointState::Stale } else { PointState::Fresh };
    view.stale_because.clone_from(&freshness.stale);
    view.instrument.clone_from(&last.reading.instrument);
    view.round = Some(last.reading.round);
    view.readings = freshness.used.len();
    view.at = Some(last.at.to_string());
    view.by = Some(last.by.clone());
    view.entries = freshness.used.iter().map(|u| u.seq).collect();
    view.when = Some(fold.written.when(last.seq, last.at).to_string());
    let shown = |used: &Used| ShownReading {
        entry: used.seq,
        value: used.reading.value,
        resolution: used.reading.resolution,
        facing: used.reading.facing,
        temperature_c: used.reading.temperature.map(|t| t.value()),
    };
    view.behind = freshness.used.iter().map(shown).collect();
}

fn fill_value(view: &mut PointView, point: &Point, values: &Values) {
    let Some(measured) = values.get(point) else { return };
    view.value = Some(measured.estimate.value);
    view.u = Some(measured.estimate.u());
    view.u_own = Some(measured.estimate.own);
    view.u_shared = Some(measured.estimate.shared_u());
    view.reversed = measured.reversed;
    view.facing_wanted = measured.facing_wanted;
}

/// A reading that is not to be relied on, or from which no value follows, proves nothing.
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

/// The twist with what its readings put in doubt: a station by its own readings, the whole by all of them, and what a test
/// of the profile says cannot be so by chance.
pub(super) fn doubted_twist(plan: &Plan, estimates: &Estimates, mut twist: Twist) -> Twist {
    let values = &estimates.values;
    let feeds = |p: &Point| p.kind().row().judgement == Judgement::Twist;
    let mut doubts: BTreeMap<String, String> = BTreeMap::new();
    for (point, measured) in values.iter().filter(|(p, _)| feeds(p)) {
        if let Some(doubt) = measured.doubts.first() {
            let words = format!("{doubt}; {}", doubt.settles());
            doubts.entry(point.place().to_owned()).or_insert(words);
        }
    }
    for test in twist.tests.iter().filter(|t| t.p < estimates.level) {
        let all = || plan.stations.iter().map(|s| s.name.clone());
        let about: Vec<String> = if test.about.is_empty() { all().collect() } else { test.about.clone() };
        about.into_iter().for_each(|station| _ = doubts.entry(station).or_insert(test.words.clone()));
    }
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
            && let Some(why) = crate::incidence::impossible(plan, planned, values)
        {
            station.verdict = Some(Verdict::CannotJudge);
            station.why = Some(why);
        }
    }
    twist
}

/// The worst verdict among what the present stage requires; `None` before the first stage.
pub(super) fn stage_verdict(fold: &Fold<'_>, a: &Assessment) -> Option<Verdict> {
    fold.stage?;
    let required = || a.points.iter().filter(|p| p.required);
    let points = required().filter_map(|p| p.verdict);
    let twisted = required().any(|p| p.point.kind().row().judgement == Judgement::Twist);
    let whole = a.twist.iter().filter(|_| twisted).flat_map(|t| {
        let steps = t.neighbours.iter().map(|s| &s.finding);
        let whole = [&t.setting, &t.washout_error].into_iter().chain(steps);
        // What the curve does not reach is missing for the gate; of a stage only its points are.
        whole.filter_map(|f| f.verdict()).filter(|v| *v != Verdict::Missing)
    });
    Some(points.chain(whole).max().unwrap_or(Verdict::Within))
}

fn own(judged: Option<Judged>) -> Ruling {
    judged
        .map_or((None, None, None, None), |j| (j.verdict, Some(JudgedBy::OwnLimits), j.probability, j.decide))
}

/// The judgements that speak for points, by what they judge.
struct Rulings {
    found: BTreeMap<JudgedBy, Ruling>,
    /// The bay of each diagonal.
    bays: BTreeMap<String, String>,
    shaft: Option<String>,
    /// What of the rigged aeroplane rests on each point.
    rests_on: BTreeMap<Point, Vec<JudgedBy>>,
}

impl Rulings {
    fn of(plan: &Plan, a: &Assessment) -> Self {
        let mut found = BTreeMap::new();
        let mut note = |by: JudgedBy, j: &Judged| {
            found.insert(by.clone(), (j.verdict, Some(by), j.probability, j.decide.clone()));
        };
        for post in &a.posts {
            for (by, tilt) in [
                (JudgedBy::Level(post.post.clone()), &post.level),
                (JudgedBy::Cross(post.post.clone()), &post.cross),
            ] {
                tilt.iter().for_each(|tilt| note(by.clone(), &tilt.tilt));
            }
        }
        a.spars.iter().for_each(|s| note(JudgedBy::Straightness(s.spar.clone()), &s.minimum_zone));
        a.bays.iter().for_each(|b| note(JudgedBy::Square(b.bay.clone()), &b.out_of_square));
        a.spacing.iter().for_each(|s| note(JudgedBy::Spacing(s.station.clone()), &s.deviation));
        a.rigging.iter().for_each(|r| note(JudgedBy::Rigging(r.name.clone()), &r.judged));
        a.bore_line.iter().for_each(|b| note(JudgedBy::Clearance(b.shaft.clone()), &b.clearance));
        for u in &a.unjudged {
            let by = u.judged_by.clone();
            found.insert(by.clone(), (Some(Verdict::CannotJudge), Some(by), None, Some(u.why.clone())));
        }
        for s in a.twist.iter().flat_map(|t| &t.stations) {
            let by = JudgedBy::Station(s.name.clone());
            found.insert(by.clone(), (s.verdict, Some(by), s.probability, s.decide.clone()));
        }
        let bays = plan.bays.iter().flat_map(|b| b.diagonals.iter().map(|d| (d.clone(), b.name.clone())));
        let mut rests_on: BTreeMap<Point, Vec<JudgedBy>> = BTreeMap::new();
        for check in plan.rig_checks() {
            for point in check.points {
                rests_on.entry(point).or_default().push(JudgedBy::Rigging(check.name.clone()));
            }
        }
        Self { found, bays: bays.collect(), shaft: plan.shaft.as_ref().map(|s| s.name.clone()), rests_on }
    }

    /// The worst of what rests on a point of the rigged aeroplane.
    fn rigged(&self, point: &Point) -> Ruling {
        let all = self.rests_on.get(point).into_iter().flatten().filter_map(|by| self.found.get(by));
        all.max_by_key(|(verdict, ..)| *verdict).cloned().unwrap_or((None, None, None, None))
    }

    fn for_point(&self, point: &Point) -> Ruling {
        let place = point.place().to_owned();
        let by = match point.kind().row().judgement {
            Judgement::Level => Some(JudgedBy::Level(place)),
            Judgement::Cross => Some(JudgedBy::Cross(place)),
            Judgement::Square => self.bays.get(&place).cloned().map(JudgedBy::Square),
            Judgement::Spacing => Some(JudgedBy::Spacing(place)),
            Judgement::Straightness => point.spar().map(|s| JudgedBy::Straightness(s.to_owned())),
            Judgement::Twist => Some(JudgedBy::Station(place)),
            Judgement::Clearance => self.shaft.clone().map(JudgedBy::Clearance),
            Judgement::Rigging => return self.rigged(point),
            Judgement::OwnLimits => None,
        };
        by.and_then(|by| self.found.get(&by)).cloned().unwrap_or((None, None, None, None))
    }
}
