//! The second page of the short form: the twist, the worst of every other kind, how to check the paper.

use super::twist::{error, plot};
use super::words::{percent, spaced};
use super::{Sheet, paper};
use crate::flow::{Break, Cell, Column, Row, Stack, Table};
use crate::plot::state_of;
use assess::view::{Obligation, ObligationKind as K, StationView};
use quantity::shown::{WithU, signed, step_decimals};
use std::collections::BTreeMap;

/// The chapter of the second page.
pub(super) const CHAPTER: &str = "twist, and the worst of each kind";

pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, begins: Break) {
    stack.chapter(begins.of(CHAPTER));
    if let Some(twist) = &s.a.twist {
        plot(s, stack, twist);
        let sheet = *s;
        let half = twist.stations.len().div_ceil(2);
        let (first, rest) = twist.stations.split_at(half);
        stack.pair(
            0.5,
            move |k| stations(&sheet, k, first, "Stations"),
            move |k| stations(&sheet, k, rest, ""),
        );
    } else {
        stack.heading("Twist error of each station", "", None);
        stack.paragraph("", "No twist profile: fewer than two stations have a usable reading.");
    }
    everything_else(s, stack);
    paper::check(s, stack);
    let sheet = *s;
    stack.pair(0.5, move |k| paper::decision_rule(&sheet, k), paper::cautions);
}

fn stations<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, some: &'a [StationView], title: &str) {
    let Some(twist) = &s.a.twist else { return };
    if some.is_empty() {
        return;
    }
    stack.heading(title, "", None);
    let row = |v: &'a StationView| -> Row<'a> {
        vec![
            v.verdict.map_or(Cell::Empty, |verdict| Cell::Mark(state_of(verdict), 7.0)),
            Cell::strong(v.name.as_str()),
            Cell::text(signed(v.design_deg, step_decimals(v.design_deg).max(2))),
            Cell::maybe(v.measured_deg.zip(v.measured_u_deg).map(|(m, u)| WithU::of_u(m, u).signed())),
            error(twist, v),
            Cell::maybe(v.probability.map(percent)),
        ]
    };
    stack.table(Table {
        name: "Stations".to_owned(),
        columns: vec![
            Column::marks(),
            Column::words("station"),
            Column::figures("design"),
            Column::figures("measured"),
            Column::figures("error, 95 %"),
            Column::figures("conforms"),
        ],
        rows: some.iter().map(row).collect(),
    });
}

/// The worst of each kind but the stations, in one row each.
fn everything_else<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.heading(
        "Everything else, the worst of each kind",
        "readings by number, strips and history: full form",
        None,
    );
    let mut kinds: BTreeMap<(K, String), Vec<&Obligation>> = BTreeMap::new();
    for o in &s.a.gate.obligations {
        let stem = if o.kind == K::Spot {
            o.about.trim_end_matches(|c: char| c.is_ascii_digit()).to_owned()
        } else {
            String::new()
        };
        if !matches!(o.kind, K::Station | K::Record | K::Stage | K::OpenItem) {
            kinds.entry((o.kind, stem)).or_default().push(o);
        }
    }
    let when: BTreeMap<u64, String> =
        s.a.points
            .iter()
            .filter_map(|p| {
                Some((*p.entries.last()?, format!("{}, {}", s.day(p.when.as_deref()?), p.by.as_deref()?)))
            })
            .collect();
    let row = |((kind, stem), all): (&(K, String), &Vec<&Obligation>)| -> Row<'a> {
        let worst = all.iter().max_by(|a, b| {
            let p = |o: &Obligation| o.conforms.unwrap_or(1.0);
            a.state.cmp(&b.state).then(p(b).total_cmp(&p(a)))
        });
        let Some(o) = worst else { return Vec::new() };
        let measured = o.evidence.iter().rev().find_map(|e| when.get(e)).cloned();
        let what = if stem.is_empty() { kind.plural().to_owned() } else { format!("{stem} spots") };
        vec![
            Cell::Mark(o.state, 7.0),
            Cell::strong(what),
            Cell::text(all.len().to_string()),
            Cell::text(if all.len() == 1 && o.about == kind.plural() { "" } else { o.about.as_str() }),
            o.found.as_deref().map_or_else(|| Cell::text(o.state.word()), Cell::value),
            Cell::maybe(o.limit.as_deref().map(spaced)),
            Cell::maybe(o.conforms.map(percent)),
            Cell::maybe(measured),
        ]
    };
    let rows: Vec<Row<'a>> = kinds.iter().map(row).collect();
    stack.table(Table {
        name: "Everything else".to_owned(),
        columns: vec![
            Column::marks(),
            Column::text("what"),
            Column::count("how many"),
            Column::words("worst"),
            Column::figures("value, 95 %"),
            Column::text("limit"),
            Column::figures("conforms"),
            Column::text("measured"),
        ],
        rows,
    });
}
