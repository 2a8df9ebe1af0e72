//! The second page of the short form: the twist, the worst of every other kind, how to check the paper.

use super::board::{least_certain, one_row};
use super::judged::found;
use super::twist::{error, plot};
use super::words::{percent, spaced, stem};
use super::{Sheet, paper};
use crate::flow::{Break, Cell, Stack, Table};
use assess::view::{Obligation, ObligationKind as K, StationView, Verdict};
use std::collections::BTreeMap;

pub(super) const CHAPTER: &str = "twist, and the worst of each kind";

pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, begins: Break) {
    stack.chapter(begins.of(CHAPTER));
    if let Some(twist) = &s.a.twist {
        plot(s, stack, twist);
        let shown = worst_of(&twist.stations);
        let title = match twist.stations.len() {
            all if all > shown.len() => format!("Stations, the worst {} of {all}", shown.len()),
            _ => "Stations".to_owned(),
        };
        let (first, rest) = shown.split_at(shown.len().div_ceil(2));
        stack.pair(0.5, |k| stations(s, k, first, &title), |k| stations(s, k, rest, ""));
    } else if s.aeroplane() {
        super::rigging::pairs(s, stack);
    } else {
        stack.heading("Twist error of each station", "", None);
        stack.paragraph("", "No twist profile: fewer than two stations have a usable reading.");
    }
    everything_else(s, stack);
    paper::check(s, stack);
    stack.pair(0.5, |k| paper::decision_rule(s, k), |k| paper::cautions(s, k));
}

/// The most stations in the short form; with more, the worst.
const STATIONS: usize = 60;

/// The stations shown, in order along the span.
fn worst_of(all: &[StationView]) -> Vec<&StationView> {
    let mut shown: Vec<&StationView> = all.iter().collect();
    let certain = |v: &StationView| v.probability.unwrap_or(0.0);
    shown.sort_by(|a, b| b.verdict.cmp(&a.verdict).then(certain(a).total_cmp(&certain(b))));
    shown.truncate(STATIONS);
    shown.sort_by(|a, b| a.span_mm.total_cmp(&b.span_mm));
    shown
}

fn stations<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, some: &[&'a StationView], title: &str) {
    let Some(twist) = &s.a.twist else { return };
    if some.is_empty() {
        return;
    }
    stack.heading(title, "", None);
    let table = Table::of("Stations", some)
        .marks(|v| v.verdict)
        .words("station", |v| Cell::strong(v.name.as_str()))
        .figures("design", |v| Cell::text(s.design(v.design_deg)))
        .figures("measured", |v| s.measured_at(v))
        .figures("error, 95 %", |v| error(s, twist, v))
        .figures("conforms", |v| Cell::maybe(v.probability.map(percent)));
    stack.table(table);
}

/// The worst of each kind except the stations, one row each.
fn everything_else<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.heading(
        "Everything else, the worst of each kind",
        "readings by number, strips and history: full form",
        None,
    );
    let mut kinds: BTreeMap<(K, &str), Vec<&Obligation>> = BTreeMap::new();
    let one = one_row(&s.a.gate.obligations);
    let aside = |kind: K| matches!(kind, K::Station | K::Record | K::Stage | K::OpenItem);
    for o in s.a.gate.obligations.iter().filter(|o| !aside(o.kind)) {
        let stem = match o.kind {
            K::Spot if !one => stem(&o.about),
            K::Rigging if s.aeroplane() => super::rigging::Sort::of(&o.about).word(),
            _ => "",
        };
        kinds.entry((o.kind, stem)).or_default().push(o);
    }
    let when: BTreeMap<u64, String> =
        s.a.points
            .iter()
            .filter_map(|p| {
                Some((*p.entries.last()?, format!("{}, {}", s.day(p.when.as_deref()?), p.by.as_deref()?)))
            })
            .collect();
    let group = |((kind, stem), all): (&(K, &str), &Vec<&'a Obligation>)| {
        let what = match (kind, stem.is_empty()) {
            (_, true) => kind.plural().to_owned(),
            (K::Rigging, _) => (*stem).to_owned(),
            _ => format!("{stem} spots"),
        };
        Some(Group { what, many: all.len(), worst: least_certain(all.iter().copied())? })
    };
    let groups: Vec<Group<'_>> = kinds.iter().filter_map(group).collect();
    let about = |g: &Group<'a>| match &g.worst.about {
        same if g.many == 1 && same == g.worst.kind.plural() => "",
        about => about,
    };
    let certain = |o: &Obligation| o.conforms.filter(|_| o.state != Verdict::Stale);
    let measured = |o: &Obligation| o.evidence.iter().rev().find_map(|e| when.get(e)).cloned();
    let table = Table::of("Everything else", &groups)
        .marks(|g| Some(g.worst.state))
        .text("what", |g| Cell::strong(g.what.as_str()))
        .count("how many", |g| Cell::text(g.many.to_string()))
        .words("worst", |g| Cell::text(about(g)))
        .figures("value, 95 %", |g| found(g.worst))
        .text("limit", |g| Cell::maybe(g.worst.limit.as_deref().map(spaced)))
        .figures("conforms", |g| Cell::maybe(certain(g.worst).map(percent)))
        .text("measured", |g| Cell::maybe(measured(g.worst)));
    stack.table(table);
}

/// Obligations of one kind.
struct Group<'o> {
    what: String,
    many: usize,
    worst: &'o Obligation,
}
