//! What pages tell of a judged value: what is behind it, its limits, what would decide it, its picture.

use super::words::{entries, few};
use crate::flow::{Cell, PlotHeight, Stack};
use crate::plot::{Dots, state_of, strip};
use assess::Verdict;
use assess::view::{Judged, JudgedBy, ObligationState as State, PointView};
use quantity::shown::K95;
use std::collections::BTreeMap;
use std::rc::Rc;

pub(super) type Behind<'a> = BTreeMap<JudgedBy, Vec<&'a PointView>>;

/// Round, instrument, entries and persons behind some judgements.
pub(super) fn from(behind: &Behind<'_>, by: impl Iterator<Item = JudgedBy>) -> String {
    provenance(by.filter_map(|by| behind.get(&by)).flatten().copied())
}

/// The mark of a heading over several verdicts: the worst, and how many.
pub(super) fn summed(verdicts: impl Iterator<Item = Option<Verdict>> + Clone) -> Option<(State, String)> {
    let worst = verdicts.clone().flatten().max()?;
    let n = verdicts.filter(|v| *v == Some(worst)).count();
    Some((state_of(worst), if n == 1 { worst.word().to_owned() } else { format!("{n} {}", worst.word()) }))
}

/// Round, instrument, entries and person of some points.
pub(super) fn provenance<'p>(points: impl Iterator<Item = &'p PointView>) -> String {
    let (mut rounds, mut names, mut by, mut seqs) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for p in points {
        rounds.extend(p.round);
        names.extend(p.instrument.as_deref());
        by.extend(p.by.as_deref());
        seqs.extend(&p.entries);
    }
    let mut said = Vec::new();
    rounds.sort_unstable();
    rounds.dedup();
    match rounds.as_slice() {
        [] => {}
        [one] => said.push(format!("round {one}")),
        [first, .., last] => said.push(format!("rounds {first} to {last}")),
    }
    let mut say = |mut all: Vec<&str>| {
        all.sort_unstable();
        all.dedup();
        if !all.is_empty() {
            said.push(few(&all.iter().map(|s| (*s).to_owned()).collect::<Vec<_>>(), 2));
        }
    };
    say(names);
    say(by);
    let shown = entries(seqs);
    if !shown.is_empty() {
        said.push(shown);
    }
    said.join(", ")
}

/// Points by what judges them.
pub(super) fn behind<'a>(points: impl IntoIterator<Item = &'a PointView>) -> Behind<'a> {
    let mut behind = Behind::new();
    for p in points {
        if let Some(by) = &p.judged_by {
            behind.entry(by.clone()).or_default().push(p);
        }
    }
    behind
}

/// Sorts by verdict, the worst first; of those that are alike the one that is least likely to conform.
pub(super) fn worst_first<T>(
    all: &mut [T],
    verdict: impl Fn(&T) -> Option<Verdict>,
    conforms: impl Fn(&T) -> Option<f64>,
) {
    let p = |one: &T| conforms(one).unwrap_or(1.0);
    all.sort_by(|a, b| verdict(b).cmp(&verdict(a)).then(p(a).total_cmp(&p(b))));
}

/// A judged value as a strip between its limits.
pub(super) fn strip_cell<'a>(j: &Judged, reach: f64) -> Cell<'a> {
    let (value, half, limits) = (j.value, K95 * j.u, [j.lower, j.upper]);
    let state = j.verdict.map_or(State::CannotJudge, state_of);
    let said = format!("{} {}", j.shown(), j.verdict.map_or("no limit", Verdict::word));
    Cell::Picture(Rc::new(move |area| strip(area, value, half, limits, reach, state)), said)
}

/// How far strips reach so that these values and their limits are on them.
pub(super) fn reach<'j>(all: impl Iterator<Item = &'j Judged>) -> f64 {
    let far = |j: &Judged| {
        let limits = [j.lower, j.upper].into_iter().flatten().map(|l| l.abs() * 1.45);
        limits.fold((j.value.abs() + K95 * j.u) * 1.1, f64::max)
    };
    all.map(far).filter(|v| v.is_finite()).fold(1e-6, f64::max)
}

/// The limits of a judged value with their unit.
pub(super) fn limits(j: &Judged) -> String {
    if j.lower.or(j.upper).is_none() { "no limit".to_owned() } else { j.scale().with(&j.limits()) }
}

/// What would decide the undecided among some judgements.
pub(super) fn decides<'a>(stack: &mut Stack<'a>, all: impl Iterator<Item = &'a Judged>) {
    for j in all {
        if let Some(decide) = &j.decide {
            stack.note(&format!("{}: {decide}", j.what));
        }
    }
}

/// A picture with its text below.
pub(super) fn picture<'a>(stack: &mut Stack<'a>, dots: Dots, about: String, height: f64) {
    stack.figure(dots, about, PlotHeight { usual: height, most: height * 1.9 });
}
