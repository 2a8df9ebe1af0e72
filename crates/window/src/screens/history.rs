//! Every reading of a point, the latest first, with its present state.

use super::{Cx, list, undo_button};
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::text::{row, say};
use crate::model::Wing;
use crate::pages::{Ask, Page, Then, WordsFor};
use crate::words;
use egui::{Align, Ui};
use quantity::shown;
use record::{Point, What};
use std::collections::HashMap;

fn rows(wing: &Wing, point: &Point) -> Vec<(u64, list::Row)> {
    let gone: HashMap<u64, &str> =
        wing.assessment.withdrawn.iter().map(|w| (w.entry, w.reason.as_str())).collect();
    let mut stage = "before the first stage";
    let mut rows = Vec::new();
    for entry in wing.entries.iter() {
        match &entry.what {
            What::Stage(s) => stage = &s.name,
            What::Reading(r) if r.point == *point => {
                let with = r.instrument.as_deref().unwrap_or("no instrument named");
                let title = format!("#{}{} {}", entry.seq, words::faced(r), words::reading(&wing.plan, r));
                let note = format!("{with}, round {}, {}, {}", r.round, entry.by, words::written(entry));
                let state = gone.get(&entry.seq).map_or(String::new(), |why| format!("withdrawn: {why}"));
                rows.push((entry.seq, list::Row::new(title, note).right(state, stage)));
            }
            _ => {}
        }
    }
    rows.reverse();
    rows
}

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let x = cx.g.body();
    let Some(point) = cx.s.measuring.point.clone() else { return };
    let (numbers, rows): (Vec<u64>, Vec<list::Row>) = rows(wing, &point).into_iter().unzip();
    let count = shown::counted(rows.len(), "reading", "readings");
    super::title(ui, cx, x, point.place(), [&count, &words::what(&point)]);
    let area = super::notice_below(ui, cx, cx.g.middle(x));
    if rows.is_empty() {
        let line = row(area.left(), area.right(), area.top() + 40.0, 40.0);
        say(ui, line, Align::Min, cx.heavy(30.0, 38.0), "empty", "Not measured yet.");
    } else {
        let tapped = list::show(ui, cx, area, &rows, cx.s.top, None);
        if let Some(seq) = tapped.and_then(|i| numbers.get(i)) {
            again(wing, cx, *seq);
        }
    }
    let cell = cx.g.split(cx.g.buttons(x), cx.g.gap(), [132.0, 62.0, 70.0, 88.0, 120.0, 186.0]);
    undo_button(ui, cx, cell[0]);
    cx.s.top = list::pager(ui, cx, [cell[1], cell[2]], area, rows.len(), cx.s.top);
    if Button::new(cell[3], "Find", cx.g.pick(24.0, 30.0)).second("any letter").show(ui) {
        cx.s.open(Page::Find { text: String::new(), from: 0 });
    }
    let why = wing.read_only.then_some("read only");
    if Button::new(cell[4], "Reworked…", cx.g.pick(22.0, 28.0)).named("Reworked").unless(why).show(ui) {
        return cx.s.write(WordsFor::Rework(point), "");
    }
    if Button::new(cell[5], "Measure it again", cx.g.pick(26.0, 34.0)).main().show(ui) {
        cx.s.go(super::Screen::Measure);
        cx.s.measuring.past_summary = true;
    }
}

/// Lets a withdrawn reading count again, by withdrawing its withdrawal.
fn again(wing: &Wing, cx: &mut Cx<'_>, reading: u64) {
    let gone = &cx.index().gone;
    let of = |e: &&record::Entry| {
        matches!(&e.what, What::Withdrawn { seq, .. } if *seq == reading) && !gone.contains(e.seq)
    };
    let Some(withdrawal) = wing.entries.iter().rev().find(of).map(|e| e.seq).filter(|_| !wing.read_only)
    else {
        return;
    };
    let again = Action::Withdraw { seq: withdrawal, reason: "withdrawn by mistake".to_owned() };
    let answers = [("Leave it withdrawn", Then::Nothing), ("Count it again", Then::Do(again))];
    let words = "Its withdrawal is struck out; both stay in the log.";
    cx.s.open(Page::Ask(Ask::new(&format!("Count #{reading} again?"), words, answers)));
}
