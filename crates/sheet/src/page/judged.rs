//! What pages tell of a judged value: what is behind it, its limits, what would decide it, its picture.

use super::twist::provenance;
use crate::draw::Role;
use crate::flow::{Cell, Stack, Stretch};
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
    stack.stretched(height, Stretch::Plot(height * 1.9), move |canvas, area| {
        let shapes = dots.draw(canvas.set, area);
        canvas.said(Role::Figure(about.clone()), shapes);
    });
}
