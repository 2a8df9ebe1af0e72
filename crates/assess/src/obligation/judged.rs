//! Obligations that a judgement meets: every point behind it has a fresh, usable, undoubted reading, and the verdict
//! is `within`.

use super::findings::{Finding, Findings};
use super::met::{Answer, Cause, Discharge, Shortfall, Unmet};
use super::owed::{By, Owed};
use super::span::Span;
use crate::assembly::Estimates;
use crate::history::{Distrust, Fold};
use crate::view::{JudgedBy, ObligationKind as K, WingView};
use record::Point;
use record::plan::{Plan, Station};
use std::collections::{BTreeMap, BTreeSet};

/// The context for looking up everything judged.
pub struct Known<'a> {
    pub plan: &'a Plan,
    pub fold: &'a Fold<'a>,
    pub estimates: &'a Estimates,
    pub findings: &'a Findings,
    pub wings: &'a [WingView],
    pub waiting: BTreeMap<&'a Point, &'a str>,
    /// What the present stage requires.
    pub required: BTreeSet<&'a Point>,
}

impl Known<'_> {
    /// Whether the present stage requires what an obligation rests on: all of it, so that what earlier stages left
    /// does not count. The datum of an angle of the rigged aeroplane may have been read before.
    pub fn of_stage(&self, owed: &Owed) -> bool {
        let required = |point: &Point| self.required.contains(point);
        match &owed.by {
            By::Limit(point) => required(point),
            By::Judgement(points) if owed.kind == K::Rigging => {
                points.iter().any(required) && !points.iter().any(|p| self.waiting.contains_key(p))
            }
            By::Judgement(points) => !points.is_empty() && points.iter().all(required),
            _ => false,
        }
    }
}

/// The result for a thing that rests on these points.
pub fn judged(known: &Known<'_>, owed: &Owed, points: &[Point]) -> Discharge {
    let entries = entries(known, points);
    // If one point has no value, nothing is judged yet, and no point can be said to be unused.
    let all_there = points.iter().all(|point| known.estimates.values.contains_key(point));
    let mut worst: Option<Unmet> = None;
    for point in points {
        let unmet = of_point(known, owed, point);
        let unmet = unmet.or_else(|| aside(known, owed, point).filter(|_| all_there));
        unmet.into_iter().for_each(|unmet| keep_worse(&mut worst, unmet));
    }
    let finding = known.findings.get(owed.kind, &owed.about);
    if let Some((finding, verdict)) = finding.and_then(|f| Some((f, f.verdict?))) {
        match Shortfall::of(verdict) {
            None if worst.is_none() => return Discharge::met(entries, finding.words.clone()),
            None => {}
            Some(state) => keep_worse(&mut worst, of_finding(owed, finding, state)),
        }
    }
    let worst = worst.unwrap_or_else(|| nothing_follows(known, owed, points, &entries));
    Discharge { entries, answer: Answer::Unmet(worst) }
}

fn keep_worse(worst: &mut Option<Unmet>, unmet: Unmet) {
    if worst.as_ref().is_none_or(|w| unmet.state > w.state) {
        *worst = Some(unmet);
    }
}

fn of_finding(owed: &Owed, finding: &Finding, state: Shortfall) -> Unmet {
    let cause = finding.follows.clone().map_or_else(|| own(owed.kind, &owed.about), Cause::Own);
    Unmet { state, words: finding.words.clone(), cause, settles: finding.settles.clone() }
}

/// A thing as its own cause.
pub fn own(kind: K, about: &str) -> Cause {
    Cause::Own(JudgedBy::new(kind, about))
}

/// All readings are there, but they give no verdict.
fn nothing_follows(known: &Known<'_>, owed: &Owed, points: &[Point], entries: &[u64]) -> Unmet {
    let station = known.plan.station(&owed.about).filter(|_| owed.kind == K::Station);
    let why = station.and_then(|s| crate::incidence::impossible(known.plan, s, &known.estimates.values));
    let read = !points.is_empty() && !entries.is_empty();
    let state = if read { Shortfall::CANNOT_JUDGE } else { Shortfall::MISSING };
    let what = owed.kind.of(&owed.about);
    let valued = points.iter().all(|p| known.estimates.values.contains_key(p));
    let mut cause = own(owed.kind, &owed.about);
    let (state, words) = match (why, read) {
        (Some(why), _) => (state, format!("{what} cannot be judged: {why}")),
        (None, true) => match station.filter(|_| valued).and_then(|_| no_setting(known)) {
            Some(NoSetting::Others) => {
                if let Some(stage) = points.iter().find_map(|p| known.waiting.get(p)) {
                    cause = Cause::Stage((*stage).to_owned());
                }
                let words = format!("{what} waits for the setting of the wing, which needs other stations");
                (Shortfall::MISSING, words)
            }
            Some(NoSetting::Why(why)) => (state, format!("{what} cannot be judged: {why}")),
            None => (state, format!("{what} cannot be judged: its readings give no value")),
        },
        (None, false) => (state, format!("{what} has no reading")),
    };
    Unmet { state, words, cause, settles: None }
}

/// Why the setting, which is subtracted from a measured station, is not known.
enum NoSetting<'a> {
    /// Other stations are not measured.
    Others,
    /// What was found of it.
    Why(&'a str),
}

fn no_setting<'a>(known: &Known<'a>) -> Option<NoSetting<'a>> {
    let measured =
        |s: &Station| crate::incidence::of_station(known.plan, s, &known.estimates.values).is_some();
    if !known.plan.stations.iter().all(measured) {
        return Some(NoSetting::Others);
    }
    known.findings.get(K::Setting, "setting").map(|found| NoSetting::Why(&found.words))
}

/// What prevents one point from being evidence.
fn of_point(known: &Known<'_>, owed: &Owed, point: &Point) -> Option<Unmet> {
    let unmet = |state, words: String, cause, settles| Some(Unmet { state, words, cause, settles });
    let what = owed.kind.of(&owed.about);
    let freshness = known.fold.points.get(point).filter(|f| !f.used.is_empty());
    let Some(freshness) = freshness else {
        let cause = not_measured(known, owed, point);
        return unmet(Shortfall::MISSING, format!("{what}: {point} has no reading"), cause, None);
    };
    if let Some(why) = &freshness.stale {
        let words = format!("{what}: {point} was measured before {why}");
        let again = Some("measure again".to_owned());
        return unmet(Shortfall::STALE, words, Cause::Disturbed(why.clone()), again);
    }
    if let Some(why) = known.estimates.unusable.get(point) {
        let words = format!("{what} cannot be judged: {point}: {why}");
        let again = Some("withdraw the wrong reading and measure again".to_owned());
        return unmet(Shortfall::CANNOT_JUDGE, words, own(K::Point, &point.to_string()), again);
    }
    let checks =
        || known.plan.rig_checks().into_iter().filter(|c| owed.kind == K::Rigging && c.name == owed.about);
    let counts = |doubt: &&Distrust| !doubt.is_of_zero() || checks().all(|c| c.has_zero_of(point));
    let doubt = known.estimates.values.get(point).and_then(|m| m.doubts.iter().find(counts))?;
    let cause = Cause::Doubt { name: doubt.cause(), words: doubt.to_string() };
    unmet(Shortfall::DOUBTFUL, format!("{what} is doubtful: {doubt}"), cause, Some(doubt.settles()))
}

/// A required point that the judgement does not use.
fn aside(known: &Known<'_>, owed: &Owed, point: &Point) -> Option<Unmet> {
    let used = known.findings.rests_on(owed.kind, &owed.about, point);
    (!used && !known.plan.record_only.contains(point)).then(|| Unmet {
        state: Shortfall::CANNOT_JUDGE,
        words: format!(
            "{} cannot be judged: {point} is required, but nothing is judged by it",
            owed.kind.of(&owed.about)
        ),
        cause: own(K::Point, &point.to_string()),
        settles: Some("replan: name it in record_only, or do not require it".to_owned()),
    })
}

/// An unmeasured point waits for its stage if that is not begun.
fn not_measured(known: &Known<'_>, owed: &Owed, point: &Point) -> Cause {
    match known.waiting.get(point) {
        Some(stage) => Cause::Stage((*stage).to_owned()),
        None => Cause::NotMeasured(owed.kind.walk()),
    }
}

/// The points required only by stages that are not begun, each with the first of those stages.
pub fn waiting<'p>(plan: &'p Plan, fold: &Fold<'_>, span: Span) -> BTreeMap<&'p Point, &'p str> {
    let begun = |name: &str| {
        fold.visits
            .iter()
            .map(|v| &v.begun.what)
            .any(|s| s.name == name || s.passed.iter().any(|p| p == name))
    };
    let (begun, ahead): (Vec<_>, Vec<_>) = span.stages(plan).iter().partition(|stage| begun(&stage.name));
    let mut out = BTreeMap::new();
    for stage in ahead {
        for point in &stage.requires {
            out.entry(point).or_insert(stage.name.as_str());
        }
    }
    for point in begun.iter().flat_map(|stage| &stage.requires) {
        out.remove(point);
    }
    out
}

/// The readings behind the points.
fn entries(known: &Known<'_>, points: &[Point]) -> Vec<u64> {
    let mut all: Vec<u64> = points
        .iter()
        .filter_map(|p| known.fold.points.get(p))
        .flat_map(|f| f.used.iter().map(|u| u.seq))
        .collect();
    all.sort_unstable();
    all.dedup();
    all
}
