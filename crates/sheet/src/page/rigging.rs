//! The rigged aeroplane: left, right and their difference; single values; distances that check each other; the wings.

use super::Sheet;
use super::judged::{decides, limits, provenance, summed};
use super::words::percent;
use crate::flow::{Break, Cell, Stack, Table};
use assess::Verdict;
use assess::view::{
    Judged, Obligation, ObligationKind as K, RigClosure, RigPair, RigView, TakenView, WingFound,
};
use quantity::shown::capital;
use quantity::shown::counted;
use record::calendar::full;
use record::point::Judgement;
use record::{Point, PointKind as P};
use std::collections::{BTreeMap, BTreeSet};

pub(super) const CHAPTER: &str = "rigging";

quantity::words! {
    /// What belongs together on the page and on the board.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
    pub(super) enum Sort {
        Angles = "attitude and angles",
        Controls = "travel and free play",
        Cables = "tension of the cables",
        Bolts = "torque of the bolts",
        Distances = "distances and symmetry",
        Derived = "differences, weight, wings",
    }
}

impl Sort {
    /// From a name, which begins with the words of the point it is read at: `travel up of left aileron`.
    pub(super) fn of(about: &str) -> Self {
        let begins = |words: &str| about.strip_prefix(words).is_some_and(|rest| rest.starts_with(" of "));
        let mut rigged = P::all().filter(|k| k.row().judgement == Judgement::Rigging);
        match rigged.find(|k| begins(k.row().words)) {
            Some(P::Pitch | P::Roll | P::Dihedral | P::Rise | P::RigIncidence | P::Upright | P::Sweep) => {
                Self::Angles
            }
            Some(P::Neutral | P::TravelUp | P::TravelDown | P::Play) => Self::Controls,
            Some(P::Tension) => Self::Cables,
            Some(P::Torque | P::Drag) => Self::Bolts,
            Some(P::Distance) => Self::Distances,
            _ if begins("yaw") || begins("offset") => Self::Distances,
            _ => Self::Derived,
        }
    }
}

pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, begins: Break) {
    stack.chapter(begins.of(CHAPTER));
    sections(s, stack, &|_| true);
    s.a.rig_closures.iter().for_each(|c| closure(s, stack, c));
    wings(s, stack);
}

/// Everything wanted, in groups.
pub(super) fn sections<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, wanted: &dyn Fn(&str) -> bool) {
    Sort::ALL.into_iter().for_each(|sort| section(s, stack, sort, wanted));
}

/// A section: pairs, then values without a counterpart.
fn section<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, sort: Sort, wanted: &dyn Fn(&str) -> bool) {
    let pairs: Vec<&RigPair> =
        s.a.rig_pairs
            .iter()
            .filter(|p| sides(p).any(|j| Sort::of(&j.what) == sort && wanted(&j.what)))
            .collect();
    let paired: BTreeSet<&str> =
        pairs.iter().flat_map(|p| sides(p).chain(&p.difference)).map(|j| j.what.as_str()).collect();
    let views: BTreeMap<&str, &RigView> = s.a.rigging.iter().map(|r| (r.name.as_str(), r)).collect();
    // What is owed and has no value is listed too, with its word.
    let owed = s.a.gate.obligations.iter().filter(|o| o.kind == K::Rigging && !s.wing_log(&o.about));
    let mut alone: Vec<Alone<'a>> =
        owed.map(|o| Alone { name: &o.about, view: None, owed: Some(o) }).collect();
    let known: BTreeSet<&str> = alone.iter().map(|a| a.name).collect();
    let loose = s.a.rigging.iter().filter(|r| !known.contains(r.name.as_str()));
    alone.extend(loose.map(|r| Alone { name: &r.name, view: Some(r), owed: None }));
    alone.retain(|a| Sort::of(a.name) == sort && !paired.contains(a.name) && wanted(a.name));
    alone.iter_mut().for_each(|a| a.view = views.get(a.name).copied());
    if pairs.is_empty() && alone.is_empty() {
        return;
    }
    let judged = || pairs.iter().flat_map(|p| sides(p).chain(&p.difference));
    let verdicts: Vec<Option<Verdict>> =
        judged().map(|j| j.verdict).chain(alone.iter().map(Alone::verdict)).collect();
    let points: BTreeSet<&Point> = paired
        .iter()
        .filter_map(|n| views.get(n))
        .chain(alone.iter().filter_map(|a| a.view.as_ref()))
        .flat_map(|r| &r.points)
        .collect();
    let behind = provenance(s.a.points.iter().filter(|p| points.contains(&p.point)));
    stack.heading_of(&capital(sort.word()), &behind.notes(), summed(verdicts.into_iter()));
    if !pairs.is_empty() {
        both(stack, &pairs);
    }
    if !alone.is_empty() {
        single(stack, &alone);
    }
    decides(stack, judged());
    decides(stack, alone.iter().filter_map(|a| Some(&a.view?.judged)));
}

/// Only left, right and difference, if they are few enough for the short form.
pub(super) fn pairs<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let all: Vec<&RigPair> = s.a.rig_pairs.iter().collect();
    if all.is_empty() || all.len() > PAIRS {
        return;
    }
    let judged = all.iter().flat_map(|p| sides(p).chain(&p.difference));
    let verdicts: Vec<Option<Verdict>> = judged.map(|j| j.verdict).collect();
    stack.heading("Left and right", "", summed(verdicts.into_iter()));
    both(stack, &all);
}

/// The most pairs in the short form.
const PAIRS: usize = 20;

fn sides(pair: &RigPair) -> impl Iterator<Item = &Judged> {
    pair.left.iter().chain(&pair.right)
}

/// A value without a counterpart.
struct Alone<'a> {
    name: &'a str,
    view: Option<&'a RigView>,
    owed: Option<&'a Obligation>,
}

impl Alone<'_> {
    fn verdict(&self) -> Option<Verdict> {
        self.view.and_then(|r| r.judged.verdict)
    }
}

fn both<'a>(stack: &mut Stack<'a>, pairs: &[&'a RigPair]) {
    let all = |p: &'a RigPair| sides(p).chain(&p.difference);
    let worst = |p: &'a RigPair| all(p).filter_map(|j| j.verdict).max();
    let least = |p: &'a RigPair| all(p).filter_map(|j| j.probability).reduce(f64::min);
    let value = |j: &Option<Judged>| {
        j.as_ref().map_or_else(|| Cell::text("not measured"), |j| Cell::value(&j.shown()))
    };
    let asked = |p: &'a RigPair| {
        let mut asked: Vec<String> = sides(p).map(limits).collect();
        asked.dedup();
        asked.join("; right ")
    };
    let limit = |p: &'a RigPair| p.difference.as_ref().filter(|j| j.verdict.is_some()).map(limits);
    let table = Table::of("Left and right", pairs)
        .marks(|p| worst(p))
        .words("left and right", |p| Cell::strong(p.name.as_str()))
        .figures("left, 95 %", |p| value(&p.left))
        .figures("right, 95 %", |p| value(&p.right))
        .text("limits", |p| Cell::text(asked(p)))
        .figures("left less right", |p| {
            p.difference.as_ref().map_or(Cell::Empty, |j| Cell::value(&j.shown()))
        })
        .text("its limit", |p| Cell::text(limit(p).unwrap_or_else(|| "no limit".to_owned())))
        .figures("conforms", |p| Cell::maybe(least(p).map(percent)))
        .text("verdict", |p| Cell::text(worst(p).map_or("not judged", Verdict::word)));
    stack.table(table);
}

fn single<'a>(stack: &mut Stack<'a>, alone: &[Alone<'a>]) {
    let judged = |a: &Alone<'a>| a.view.map(|r| &r.judged);
    let state = |a: &Alone<'a>| a.owed.map(|o| o.state).or_else(|| a.verdict());
    let limit = |a: &Alone<'a>| judged(a).map(limits).or_else(|| a.owed?.limit.clone());
    let word = |state: Verdict| if state == Verdict::Within { "within" } else { state.obligation_word() };
    let table = Table::of("Without another side", alone)
        .marks(state)
        .words("alone", |a| Cell::strong(a.name))
        .figures("value, 95 %", |a| judged(a).map_or(Cell::Empty, |j| Cell::value(&j.shown())))
        .text("limits", |a| Cell::text(limit(a).unwrap_or_default()))
        .figures("conforms", |a| Cell::maybe(judged(a).and_then(|j| j.probability).map(percent)))
        .text("verdict", |a| Cell::text(state(a).map_or("no limit", word)));
    stack.table(table);
}

/// Distances left and right, and the remainder of each pair after yaw and offset.
fn closure<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, c: &'a RigClosure) {
    let state = if c.contradicts { Verdict::Doubtful } else { Verdict::Within };
    let word = if c.contradicts { "they contradict each other" } else { "they agree" };
    let p = c.p.map_or_else(String::new, |p| format!("by measurement alone: {}", percent(p)));
    let right = c.p.map(|_| (state, word.to_owned()));
    stack.heading(&format!("Distances that check each other: {}", c.name), &p, right);
    let length = s.length();
    let table = Table::of(c.name.as_str(), &c.rows)
        .words("distance to the left mark", |r| Cell::strong(r.left.as_str()))
        .words("to the right mark", |r| Cell::strong(r.right.as_str()))
        .figures(format!("remainder, {}", length.head()), |r| {
            Cell::text(length.signed(r.left_over_mm, length.decimals(1)))
        });
    stack.table(table);
    stack.note(&c.words);
}

/// The wings whose logs were taken up.
fn wings<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    if s.a.wings.is_empty() {
        return;
    }
    let worst = s.a.wings.iter().map(|w| w.state).max().unwrap_or(Verdict::Missing);
    let right = (worst, counted(s.a.wings.len(), "wing", "wings"));
    stack.heading("Wings from the jig", "their own logs, as they were when taken up", Some(right));
    let covers = |t: &TakenView| format!("#{}, {}", t.entries, record::hex::grouped(&t.head, 16));
    let says =
        |t: &TakenView| format!("{}, serial {}", t.wing, t.serial.as_deref().unwrap_or("not in its plan"));
    let when = |t: &TakenView| format!("{}, {}, #{}", full(&t.on.when), t.on.by, t.on.entry);
    let gate = |t: &TakenView| t.gate.word().to_uppercase();
    let table = Table::of("Wings from the jig", &s.a.wings)
        .marks(|w| Some(w.state))
        .text("wing", |w| Cell::strong(w.name.as_str()))
        .words("its plan says", |w| Cell::maybe(w.taken.as_ref().map(says)))
        .text("gate", |w| Cell::text(w.taken.as_ref().map_or("nothing taken up".to_owned(), gate)))
        .text("entry and hash", |w| Cell::maybe(w.taken.as_ref().map(covers)))
        .text("taken up", |w| Cell::maybe(w.taken.as_ref().map(when)))
        .words("its log now", |w| Cell::text(found(&w.found)));
    stack.table(table);
    for w in s.a.wings.iter().filter(|w| w.state != Verdict::Within) {
        stack.note(&format!("{}: {}", w.name, w.words));
    }
}

fn found(found: &WingFound) -> String {
    match found {
        WingFound::NotLookedFor => "not looked for".to_owned(),
        WingFound::NotAtHand => "not found".to_owned(),
        WingFound::Unread { why } => format!("CANNOT BE READ: {why}"),
        WingFound::AsTakenUp => "whole, as taken up".to_owned(),
        WingFound::GoneOn { entries, .. } => format!("whole, gone on by {entries}"),
        WingFound::Changed { why } => format!("CHANGED: {why}"),
    }
}

impl Sheet<'_> {
    /// True for the obligation that a wing's log was taken up.
    fn wing_log(&self, about: &str) -> bool {
        let name = about.strip_suffix(" from its jig");
        name.is_some_and(|name| self.a.wings.iter().any(|w| w.name == name))
    }
}
