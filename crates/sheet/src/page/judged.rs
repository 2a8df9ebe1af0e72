//! What pages say about a judged value: its readings, its limits, what would decide it, its picture.

use super::words::{entries, few};
use crate::flow::{Cell, PlotHeight, Stack};
use crate::plot::{Dots, strip};
use assess::Verdict;
use assess::view::{Judged, JudgedBy, Obligation, PointView};
use quantity::shown::K95;
use std::collections::BTreeMap;
use std::rc::Rc;

pub(super) type Behind<'a> = BTreeMap<JudgedBy, Vec<&'a PointView>>;

/// The evidence of some judgements.
pub(super) fn from(behind: &Behind<'_>, by: impl Iterator<Item = JudgedBy>) -> Provenance {
    provenance(by.filter_map(|by| behind.get(&by)).flatten().copied())
}

/// The mark of a heading over several verdicts: the worst, and how many.
pub(super) fn summed(verdicts: impl Iterator<Item = Option<Verdict>> + Clone) -> Option<(Verdict, String)> {
    let worst = verdicts.clone().flatten().max()?;
    let n = verdicts.filter(|v| *v == Some(worst)).count();
    Some((worst, if n == 1 { worst.word().to_owned() } else { format!("{n} {}", worst.word()) }))
}

/// Round, instrument, person and entries of what was measured, as text; each empty if there is none.
pub(super) struct Provenance {
    rounds: String,
    with: String,
    by: String,
    entries: String,
}

impl Provenance {
    /// All of it.
    pub(super) fn whole(&self) -> String {
        said(&[&self.rounds, &self.with, &self.by, &self.entries])
    }

    /// All of it, then less and less for less room: the entries, which lead to the rest, are never left out.
    pub(super) fn notes(&self) -> Vec<String> {
        let Self { rounds, with, entries, .. } = self;
        vec![self.whole(), said(&[rounds, with, entries]), said(&[rounds, entries]), entries.clone()]
    }
}

fn said(parts: &[&str]) -> String {
    let said: Vec<&str> = parts.iter().copied().filter(|part| !part.is_empty()).collect();
    said.join(", ")
}

/// The sources of some points.
pub(super) fn provenance<'p>(points: impl Iterator<Item = &'p PointView>) -> Provenance {
    let (mut rounds, mut names, mut by, mut seqs) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for p in points {
        rounds.extend(p.round);
        names.extend(p.instrument.as_deref());
        by.extend(p.by.as_deref());
        seqs.extend(&p.entries);
    }
    rounds.sort_unstable();
    rounds.dedup();
    let rounds = match rounds.as_slice() {
        [] => String::new(),
        [one] => format!("round {one}"),
        [first, .., last] => format!("rounds {first} to {last}"),
    };
    let few = |mut all: Vec<&str>| {
        all.sort_unstable();
        all.dedup();
        let all: Vec<String> = all.into_iter().map(str::to_owned).collect();
        if all.is_empty() { String::new() } else { few(&all, 2) }
    };
    Provenance { rounds, with: few(names), by: few(by), entries: entries(seqs) }
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

/// Sorts by verdict, the worst first; among equal ones, the one least likely to conform first.
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
    let state = j.verdict.unwrap_or(Verdict::CannotJudge);
    let said = format!("{} {}", j.shown(), j.verdict.map_or("no limit", Verdict::word));
    Cell::Picture(Rc::new(move |area| strip(area, value, half, limits, reach, state)), said)
}

/// How far strips reach so that these values and their limits fit.
pub(super) fn reach<'j>(all: impl Iterator<Item = &'j Judged>) -> f64 {
    let far = |j: &Judged| {
        let limits = [j.lower, j.upper].into_iter().flatten().map(|l| l.abs() * 1.45);
        limits.fold((j.value.abs() + K95 * j.u) * 1.1, f64::max)
    };
    all.map(far).filter(|v| v.is_finite()).fold(1e-6, f64::max)
}

/// What was found of an obligation, or the word for its state.
pub(super) fn found<'a>(o: &Obligation) -> Cell<'a> {
    o.found.as_deref().map_or_else(|| Cell::text(o.state.obligation_word()), Cell::value)
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
