//! The stages begun: what each measured, its state at the end, and what it had found before something was moved.

use super::{Estimates, Once, Stages, Taken, points};
use crate::history::{Fold, Freshness, Visit};
use crate::incidence;
use crate::obligation::Feeds;
use crate::parts::{self, Computed, Values};
use crate::twist::{Brief, Fits, Readings};
use crate::view::{
    Finding, Judged, JudgedBy, ObligationKind as K, StageFinding, StageView, ValueU, Verdict, WingView,
};
use quantity::Kind;
use record::plan::Plan;
use record::point::Judgement;
use record::{Point, StageBegun};
use std::collections::{BTreeMap, BTreeSet};

/// Results that the stages and the whole need repeatedly, computed once for the same numbers.
#[derive(Clone, Copy)]
pub struct Again<'a, 'f> {
    pub fits: &'a Fits<'f>,
    pub computed: &'a Computed,
    pub once: &'a Once<'f>,
}

/// The inputs for judging each stage.
struct Known<'a, 'f> {
    plan: &'f Plan,
    fold: &'f Fold<'f>,
    told: Stages,
    feeds: Feeds<'f>,
    /// Readings contradict each other below this probability.
    level: f64,
    wings: &'a [WingView],
    again: Again<'a, 'f>,
    /// The order in which stations and rigged things are shown.
    places: BTreeMap<(K, &'a str), usize>,
}

/// The stages begun, oldest first; readings contradict each other below the probability `level`.
pub fn stages<'f>(
    plan: &'f Plan,
    fold: &'f Fold<'f>,
    level: f64,
    wings: &[WingView],
    again: Again<'_, 'f>,
    told: Stages,
) -> Vec<StageView> {
    let stations = plan.stations.iter().map(|s| (K::Station, s.name.as_str()));
    let rigged = again.once.rigged.checks.iter().map(|c| (K::Rigging, c.name.as_str()));
    let places = stations.chain(rigged).zip(0..).collect();
    let known = Known { plan, fold, told, feeds: Feeds::of(plan), level, wings, again, places };
    // The datum of an angle of the rigged aeroplane may have been read in an earlier stage.
    let mut rigged = Taken::new();
    let one = |visit| {
        let view = stage(&known, visit, &rigged);
        rigged.extend(visit.left.iter().filter(|(p, _)| p.kind().row().judgement == Judgement::Rigging));
        view
    };
    fold.visits.iter().map(one).collect()
}

/// What a stage measured, as of its end.
#[derive(Default)]
struct Left {
    found: Vec<StageFinding>,
    /// Whether something was measured that gives no value or no judgement.
    unjudged: bool,
}

/// If stages are only named, nothing is judged.
fn stage<'f>(known: &Known<'_, 'f>, v: &'f Visit, rigged: &Taken<'f>) -> StageView {
    let (plan, fold) = (known.plan, known.fold);
    let counts = |p: &Point| v.ended.is_none() || v.counted.contains(p);
    let earlier: Taken<'f> = rigged.iter().filter(|(p, _)| counts(p)).map(|(p, f)| (*p, *f)).collect();
    let judged = known.told == Stages::Judged;
    let Left { found, unjudged } = if judged { left(known, v, &earlier) } else { Left::default() };
    let unjudged = unjudged.then_some(Verdict::CannotJudge);
    let required =
        v.index.and_then(|i| plan.stages.get(i)).map(|s| s.requires.as_slice()).unwrap_or_default();
    let counted = |p: &Point| match v.ended {
        Some(_) => v.counted.contains(p),
        None => fold.points.get(p).is_some_and(Freshness::counts),
    };
    let lacking = required.iter().any(|p| !counted(p)).then_some(Verdict::Missing);
    let nothing = (!required.is_empty()).then_some(Verdict::Within);
    let StageBegun { name, passed, unmet, reason } = v.begun.what.clone();
    StageView {
        on: (&v.begun).into(),
        name,
        passed,
        unmet,
        reason,
        last_entry: v.ended.map_or(fold.last_seq, |ended| ended - 1),
        verdict: judged
            .then(|| found.iter().map(|f| f.verdict).chain([lacking, unjudged, nothing]).max().flatten())
            .flatten(),
        found,
    }
}

/// What the stage measured, as of its end; what was not measured again after a move or rework is stale.
fn left<'f>(known: &Known<'_, 'f>, v: &'f Visit, earlier: &Taken<'f>) -> Left {
    let fold = known.fold;
    let mut found: BTreeMap<(K, String), StageFinding> = BTreeMap::new();
    for before in v.before.iter().rev() {
        for mut one in findings(known, earlier, before.points.iter()).found {
            one.verdict = one.verdict.map(|_| Verdict::Stale);
            one.before = Some(ValueU { value: one.value, u: one.u });
            found.insert((one.kind, one.about.clone()), one);
        }
    }
    let now = || fold.points.iter().filter(|(_, f)| f.taken_since(v.begun.seq));
    let now = match v.ended {
        Some(_) => findings(known, earlier, v.left.iter()),
        None => findings(known, earlier, now()),
    };
    let Left { found: now, unjudged } = now;
    for mut one in now {
        let key = (one.kind, one.about.clone());
        one.before = found.get(&key).filter(|b| b.first_entry < one.first_entry).and_then(|b| b.before);
        found.insert(key, one);
    }
    let mut found: Vec<StageFinding> = found.into_values().collect();
    let place = |f: &StageFinding| {
        let kind = if f.kind == K::Spacing { K::Station } else { f.kind };
        known.places.get(&(kind, f.about.as_str())).copied()
    };
    found.sort_by_key(|f| (f.kind, place(f)));
    Left { found, unjudged }
}

fn findings<'f>(
    known: &Known<'_, 'f>,
    earlier: &Taken<'f>,
    taken: impl Iterator<Item = (&'f Point, &'f Freshness)> + Clone,
) -> Left {
    let Known { plan, fold, feeds, level, wings, again: Again { fits, computed, once }, .. } = known;
    let together = earlier.iter().map(|(p, f)| (*p, *f)).chain(taken.clone()).collect();
    let estimates = Estimates::among(plan, once, fold, &together);
    let mut values: Values = estimates.values.clone();
    let own: BTreeSet<&Point> = taken.clone().map(|(point, _)| point).collect();
    values.retain(|point, _| own.contains(point));
    let mut entries: BTreeMap<JudgedBy, (u64, u64)> = BTreeMap::new();
    for (point, freshness) in taken.clone() {
        let seqs = || freshness.used.iter().map(|u| u.seq);
        let (Some(first), Some(last)) = (seqs().min(), seqs().max()) else { continue };
        for thing in feeds.by(point) {
            let range = entries.entry(thing).or_insert((first, last));
            *range = (range.0.min(first), range.1.max(last));
        }
    }
    // A reading from which no value follows is not among them.
    let mut unjudged = taken.clone().any(|(point, _)| !values.contains_key(point));
    let across = incidence::across(plan.wing.attitude);
    let mut sections = values.keys().filter(|p| p.kind() == across).filter_map(|p| plan.station(p.place()));
    unjudged |= sections.any(|station| incidence::impossible(plan, station, &values).is_some());
    let mut out = Vec::new();
    let mut note = |kind: K, about: &str, span_mm: Option<f64>, j: &Judged| {
        let range = entries.get(&JudgedBy::new(kind, about)).copied().unwrap_or_default();
        let (first_entry, last_entry) = range;
        out.push(StageFinding {
            kind,
            about: about.to_owned(),
            span_mm,
            unit: j.unit,
            value: j.value,
            u: j.u,
            lower: j.lower,
            upper: j.upper,
            verdict: j.verdict,
            before: None,
            first_entry,
            last_entry,
        });
    };
    for post in parts::posts(plan, fold, &values) {
        for (kind, tilt) in [(K::Level, &post.level), (K::Cross, &post.cross)] {
            tilt.iter().for_each(|t| note(kind, &post.post, Some(post.span_mm), &t.tilt));
        }
    }
    let spars = parts::spars(plan, &values, computed);
    unjudged |= !spars.not.is_empty();
    spars.judged.iter().for_each(|s| note(K::Straightness, &s.spar, None, &s.minimum_zone));
    let bays = parts::bays(plan, &values);
    unjudged |= !bays.not.is_empty();
    bays.judged.iter().for_each(|b| note(K::Square, &b.bay, None, &b.out_of_square));
    let spacing = parts::spacing(plan, &values);
    let away = spacing.iter().filter(|s| s.design_mm != 0.0);
    away.for_each(|s| {
        let span = plan.station(&s.station).map(|at| at.span.value());
        note(K::Spacing, &s.station, span, &s.deviation);
    });
    match parts::bore_line(plan, &values, computed) {
        Some(Ok(line)) => note(K::Clearance, &line.shaft, None, &line.clearance),
        Some(Err(_)) => unjudged = true,
        None => {}
    }
    for spot in &plan.spots {
        parts::spot(plan, spot, &values).iter().for_each(|j| note(K::Spot, &spot.name, None, j));
    }
    let rigging = |p: &Point| p.kind().row().judgement == Judgement::Rigging;
    let all =
        estimates.values.iter().filter(|(p, _)| rigging(p)).map(|(p, m)| (p.clone(), m.clone())).collect();
    let rigged = parts::rigging(plan, &once.rigged, &all, *level, wings);
    unjudged |= rigged.not.iter().any(|u| u.points.iter().any(|p| values.contains_key(p)));
    rigged
        .judged
        .into_iter()
        .filter(|r| r.judged.verdict.is_some() && r.points.iter().any(|p| values.contains_key(p)))
        .for_each(|r| note(K::Rigging, &r.name, None, &r.judged));
    if let Some(fitted) = fits.of(&values, Readings::of(taken)) {
        let Brief { setting, washout_error, stations, tests } = fitted.brief(plan).clone();
        let doubted = points::doubted(plan, &estimates, &tests);
        let doubt = |verdict: Option<Verdict>, doubted: bool| {
            verdict.map(|v| if doubted { Verdict::Doubtful } else { v })
        };
        for (kind, found) in [(K::Setting, setting), (K::Washout, washout_error)] {
            if let Finding::Judged(mut judged) = found {
                judged.verdict = doubt(judged.verdict, !doubted.is_empty());
                note(kind, if kind == K::Setting { "setting" } else { "washout error" }, None, &judged);
            }
        }
        let limits = plan.tolerances.station.map(record::Limits::values);
        for s in stations {
            let (Some(value), Some(u)) = (s.twist_error_deg, s.u_deg) else { continue };
            let judged = Judged {
                what: s.name.clone(),
                unit: Kind::Angle,
                value,
                u,
                lower95: s.lower95_deg.unwrap_or(value),
                upper95: s.upper95_deg.unwrap_or(value),
                lower: limits.and_then(|l| l.lower),
                upper: limits.and_then(|l| l.upper),
                verdict: doubt(s.verdict, doubted.contains_key(&s.name)),
                probability: s.probability,
                decide: None,
                spread: None,
                units: plan.shown_in,
            };
            note(K::Station, &s.name, Some(s.span_mm), &judged);
        }
    }
    Left { found: out, unjudged }
}
