//! The values of the points that count, with the reasons to doubt them.
//!
//! Every test of one reading against another shares one level over the whole log: by chance, at most one good log in
//! a thousand has a point in doubt.

use super::Taken;
use super::beyond::{self, Pair, Shown};
use super::datums::{self, Agreement};
use crate::estimate::{Measured, measured};
use crate::history::{Distrust, Fold, Freshness, Used};
use crate::incidence;
use crate::parts::{Rigged, Values};
use crate::sound::Unusable;
use crate::twist;
use crate::view::ZeroView;
use numerics::dist;
use quantity::Kind;
use record::plan::{Plan, RigValue, Station};
use record::point::Judgement;
use record::{Instrument, Point};
use std::cell::OnceCell;
use std::collections::BTreeMap;

/// The probability that a good log has anything in doubt by chance.
pub const CHANCE: f64 = 0.001;

/// The values computed from the readings that count.
#[derive(Clone, Debug, Default)]
pub struct Estimates {
    /// The value of each fresh point.
    pub values: Values,
    /// The fresh points whose readings give no value, and why.
    pub unusable: BTreeMap<Point, Unusable>,
    /// The zeros found by reversal.
    pub zeros: Vec<ZeroView>,
    /// The probability below which one more test raises a doubt.
    pub level: f64,
}

/// What every comparison of one assessment needs, computed once.
pub struct Once<'p> {
    pub rigged: Rigged<'p>,
    /// The zeros that the pairs of the whole log showed, once they are asked for.
    zeros: OnceCell<Vec<Pair>>,
}

impl<'p> Once<'p> {
    pub fn of(plan: &'p Plan) -> Self {
        Self { rigged: Rigged::of(plan), zeros: OnceCell::new() }
    }
}

impl Estimates {
    /// From the readings that count.
    pub fn of(plan: &Plan, once: &Once<'_>, fold: &Fold<'_>) -> Self {
        Self::among(plan, once, fold, &fold.points.iter().filter(|(_, f)| f.counts()).collect())
    }

    /// From these readings, compared with each other; what is known of their instruments is what the whole log says.
    pub fn among(plan: &Plan, once: &Once<'_>, fold: &Fold<'_>, taken: &Taken<'_>) -> Self {
        let rigged = &once.rigged;
        let mut out = Self::default();
        // The readings of each value, in the order of the values.
        let mut read: Vec<&Freshness> = Vec::with_capacity(taken.len());
        for (&point, freshness) in taken {
            match measured(plan, point, &freshness.used) {
                Ok(value) => {
                    out.values.insert(point.clone(), value);
                    read.push(freshness);
                }
                Err(why) => _ = out.unusable.insert(point.clone(), why),
            }
        }
        let mut agreements = agreements(plan, taken, &read, &out.values);
        agreements.extend(datums::tilts(plan, rigged, taken, &out.values));
        let zeros = super::zeros::zeros(taken, &out.values);
        let repeats = twist::repeats(plan, taken.iter().map(|(p, f)| (*p, *f)));
        // The twist is tested too: a few tests for the wing and one for each station.
        let tests = (agreements.len() + zeros.len() + repeats.len() + plan.stations.len() + 4) as f64;
        out.level = CHANCE / tests;
        let moved: Vec<(String, u32)> = zeros
            .iter()
            .filter(|z| z.p < out.level)
            .map(|z| (z.view.instrument.clone(), z.view.round))
            .collect();
        let as_shown: Vec<bool> = (out.values.iter().zip(&read))
            .map(|((point, value), freshness)| counts_as_shown(rigged, taken, point, freshness, value))
            .collect();
        let shown = as_shown.contains(&true).then(|| {
            let of_log = once.zeros.get_or_init(|| beyond::of_log(plan, fold));
            Shown::of(plan, fold, of_log, taken, &out.values, out.level)
        });
        for (((point, value), freshness), as_shown) in out.values.iter_mut().zip(read).zip(as_shown) {
            if as_shown {
                value.doubts.extend(shown.iter().filter_map(|shown| shown.against(plan, freshness)));
                value.doubts.extend(off_by_anything(&freshness.used));
            }
            value.doubts.extend(freshness.used.iter().flat_map(|used| fold.doubts_of(point, used)));
            if let Some(last) = freshness.used.last()
                && let Some(name) = &last.reading.instrument
            {
                let round = last.reading.round;
                if moved.iter().any(|(of, in_round)| of == name && *in_round == round) {
                    value.doubts.insert(Distrust::ZeroMoved { instrument: name.clone(), round });
                }
                if repeats.get(name).is_some_and(|repeats| repeats.p() < out.level) {
                    value.doubts.insert(Distrust::RepeatsWorse(name.clone()));
                }
            }
        }
        let several = datums::several_set_ups(taken, &out.values);
        for test in agreements.into_iter().filter(|t| t.p < out.level).chain(several) {
            for point in &test.points {
                if let Some(value) = out.values.get_mut(point) {
                    value.doubts.insert(test.says.clone());
                }
            }
        }
        let level = out.level;
        out.zeros = zeros.into_iter().map(|z| ZeroView { moved: z.p < level, ..z.view }).collect();
        out
    }
}

/// A reading that counts as the instrument showed it, if the instrument states no accuracy: its error could be anything.
fn off_by_anything(used: &[Used]) -> Option<Distrust> {
    let says_nothing = |i: &Instrument| i.accuracy.is_none() && i.tables.iter().all(|t| t.accuracy.is_none());
    let silent = |u: &Used| u.facts.as_deref().filter(|i| says_nothing(i)).map(|i| i.name.clone());
    let name = used.iter().find_map(silent)?;
    let says = if is_angle(used) { Distrust::ZeroUnknown(name) } else { Distrust::AccuracyUnknown(name) };
    Some(says)
}

fn is_angle(used: &[Used]) -> bool {
    used.iter().any(|u| u.reading.quantity == Kind::Angle)
}

/// Whether the instrument's constant error is in what is judged: read one way round, or never read both ways and judged alone. In
/// a difference between readings of one instrument it cancels.
fn counts_as_shown(
    rigged: &Rigged<'_>,
    taken: &Taken<'_>,
    point: &Point,
    read: &Freshness,
    value: &Measured,
) -> bool {
    if point.kind().reverses() {
        return !value.reversed;
    }
    let (row, is_angle) = (point.kind().row(), is_angle(&read.used));
    let instrument = |f: &Freshness| f.used.last().and_then(|u| u.reading.instrument.clone());
    let with_another = |other: &Point| taken.get(other).is_some_and(|f| instrument(f) != instrument(read));
    match row.judgement {
        Judgement::OwnLimits | Judgement::Spacing => true,
        Judgement::Clearance => !row.from_a_datum(),
        Judgement::Rigging => rigged.checks.iter().filter(|c| c.points.first() == Some(point)).any(|c| {
            let by_itself = match &c.value {
                RigValue::Own | RigValue::Neutral(_) => true,
                RigValue::Travel(_) => !is_angle || c.points.iter().any(with_another),
                RigValue::Deviation(_)
                | RigValue::Angle { .. }
                | RigValue::Sweep(_)
                | RigValue::Tension(_)
                | RigValue::Torque(_) => !is_angle,
                RigValue::Yaw(_) | RigValue::Offset(_) | RigValue::Sum(_) | RigValue::SinceJig(_) => false,
            };
            by_itself && c.has_limits()
        }),
        Judgement::Level
        | Judgement::Cross
        | Judgement::Square
        | Judgement::Straightness
        | Judgement::Twist => false,
    }
}

fn agreements(plan: &Plan, taken: &Taken<'_>, read: &[&Freshness], values: &Values) -> Vec<Agreement> {
    let mut out = Vec::new();
    for ((point, value), freshness) in values.iter().zip(read) {
        if value.repeats.dof > 0 {
            let (points, p) = (vec![point.clone()], value.repeats.p());
            out.push(Agreement { points, p, says: Distrust::Disagree(point.clone()) });
        }
        if let Some(p) = rounds(plan, taken, point, freshness, value) {
            let says = Distrust::RoundsDisagree(point.clone());
            out.push(Agreement { points: vec![point.clone()], p, says });
        }
    }
    out.extend(incidence::measured(plan, values).filter_map(|(_, s)| ways(plan, s, values)));
    out
}

/// The angle of a station against the angle from its spars, if both were measured.
fn ways(plan: &Plan, station: &Station, values: &Values) -> Option<Agreement> {
    let ways = incidence::ways(plan, station, values);
    let [angle, section] = ways.as_slice() else { return None };
    let points = angle.points.iter().chain(&section.points).cloned().collect();
    let p = angle.estimate.alike(&section.estimate);
    Some(Agreement { points, p, says: Distrust::WaysDisagree(station.name.clone()) })
}

/// The probability that two rounds of one point, with nothing moved between, differ this much by chance. `None` with
/// one round, and for the twist, which is compared round by round where the whole section was measured in each. A
/// round without a value contradicts every other.
fn rounds(
    plan: &Plan,
    taken: &Taken<'_>,
    point: &Point,
    freshness: &Freshness,
    value: &Measured,
) -> Option<f64> {
    if freshness.earlier.is_empty() {
        return None;
    }
    if freshness.earlier.iter().any(|used| measured(plan, point, used).is_err()) {
        return Some(0.0);
    }
    if point.kind().row().judgement == Judgement::Twist && in_step(plan, taken, point, freshness) {
        let no_section = |round| no_section(plan, taken, point, round);
        return (0..freshness.earlier.len()).any(no_section).then_some(0.0);
    }
    let against = |before: &Vec<Used>| {
        let before = measured(plan, point, before).ok()?;
        let u = libm::hypot(value.estimate.u(), before.estimate.u());
        let difference = value.estimate.value - before.estimate.value;
        Some(2.0 * dist::normal_sf((difference / u).abs()))
    };
    let compared = last_of_each(freshness);
    let least = compared.iter().filter_map(|before| against(before)).reduce(f64::min)?;
    let any_of_them = least * compared.len() as f64;
    Some(any_of_them)
}

/// The last of the earlier rounds, and that of each other instrument: an instrument that disagrees with another does
/// not become right by repeating itself.
fn last_of_each(freshness: &Freshness) -> Vec<&Vec<Used>> {
    let name = |round: &[Used]| round.last().and_then(|u| u.reading.instrument.clone());
    let mut heard = vec![name(&freshness.used)];
    let mut out: Vec<&Vec<Used>> = freshness.earlier.last().into_iter().collect();
    heard.extend(out.iter().map(|round| name(round)));
    for round in freshness.earlier.iter().rev() {
        if !heard.contains(&name(round)) {
            heard.push(name(round));
            out.push(round);
        }
    }
    out
}

/// Whether the spars of a station, as an earlier round found them, give no incidence.
fn no_section(plan: &Plan, taken: &Taken<'_>, point: &Point, round: usize) -> bool {
    let found = plan.spars.iter().filter_map(|spar| {
        let on = Point::on(point.kind(), &spar.name, point.place());
        let used = taken.get(&on)?.earlier.get(round)?;
        let value = measured(plan, &on, used).ok()?;
        Some((on, value))
    });
    plan.station(point.place()).is_some_and(|s| incidence::impossible(plan, s, &found.collect()).is_some())
}

/// Whether the other spars of a section were measured in the same rounds as this one.
fn in_step(plan: &Plan, taken: &Taken<'_>, point: &Point, freshness: &Freshness) -> bool {
    let Some(spar) = point.spar() else { return true };
    let rounds = |f: &Freshness| -> Vec<(u32, Option<String>)> {
        let lasts = f.earlier.iter().chain([&f.used]).filter_map(|used| used.last());
        lasts.map(|u| (u.reading.round, u.reading.instrument.clone())).collect()
    };
    let others = plan.spars.iter().filter(|s| s.name != spar);
    let mut others =
        others.filter_map(|s| taken.get(&Point::on(point.kind(), &s.name, point.place())).copied());
    others.all(|other| rounds(other) == rounds(freshness))
}
