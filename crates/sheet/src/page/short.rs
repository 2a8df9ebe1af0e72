//! The second page of the short form: the twist, the worst of every other kind, how to check the paper.

use super::board::{least_certain, one_row};
use super::twist::{error, plot};
use super::words::{percent, spaced, stem};
use super::{Sheet, paper};
use crate::flow::{Break, Cell, Column, Row, Stack, Table};
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
    let row = |v: &&'a StationView| -> Row<'a> {
        vec![
            v.verdict.map_or(Cell::Empty, |verdict| Cell::Mark(verdict, 7.0)),
            Cell::strong(v.name.as_str()),
            Cell::Text(s.design(v.design_deg)),
            Cell::maybe(v.measured_deg.zip(v.measured_u_deg).map(|(m, u)| s.angle().with_u(m, u).signed())),
            error(s, twist, v),
            Cell::maybe(v.probability.map(percent)),
        ]
    };
    let columns = [
        Column::marks(),
        Column::words("station"),
        Column::figures("design"),
        Column::figures("measured"),
        Column::figures("error, 95 %"),
        Column::figures("conforms"),
    ];
    stack.table(Table::new("Stations", columns, some.iter().map(row).collect()));
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
    let row = |((kind, stem), all): (&(K, &str), &Vec<&Obligation>)| -> Row<'a> {
        let Some(o) = least_certain(all.iter().copied()) else { return Vec::new() };
        let measured = o.evidence.iter().rev().find_map(|e| when.get(e)).cloned();
        let what = match (kind, stem.is_empty()) {
            (_, true) => kind.plural().to_owned(),
            (K::Rigging, _) => (*stem).to_owned(),
            _ => format!("{stem} spots"),
        };
        vec![
            Cell::Mark(o.state, 7.0),
            Cell::strong(what),
            Cell::text(all.len().to_string()),
            Cell::text(if all.len() == 1 && o.about == kind.plural() { "" } else { o.about.as_str() }),
            o.found.as_deref().map_or_else(|| Cell::text(o.state.obligation_word()), Cell::value),
            Cell::maybe(o.limit.as_deref().map(spaced)),
            Cell::maybe(o.conforms.filter(|_| o.state != Verdict::Stale).map(percent)),
            Cell::maybe(measured),
        ]
    };
    let rows: Vec<Row<'a>> = kinds.iter().map(row).collect();
    let columns = [
        Column::marks(),
        Column::text("what"),
        Column::count("how many"),
        Column::words("worst"),
        Column::figures("value, 95 %"),
        Column::text("limit"),
        Column::figures("conforms"),
        Column::text("measured"),
    ];
    stack.table(Table::new("Everything else", columns, rows));
}
