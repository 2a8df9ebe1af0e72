//! What the figures rest on: instruments and their checks, rounds, zeros, withdrawals and notes, signatures, limits,
//! rules.

use super::words::{degrees, entries, few, range, spaced};
use super::{Sheet, paper, signed};
use crate::draw::many;
use crate::flow::{Break, Cell, PlotHeight, Stack, Table};
use crate::plot::{Dot, Dots};
use assess::view::{InstrumentView, ObligationKind as K, SignView, Verdict, ZeroView};
use quantity::shown::counted;
use quantity::shown::{capital, exact};
use std::collections::{BTreeMap, BTreeSet};

pub(super) const CHAPTER: &str = "trust";

pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.chapter(Break::Full(CHAPTER));
    instruments(s, stack);
    super::rounds::rounds(s, stack);
    zeros_and_notes(s, stack);
    signatures(s, stack);
    paper::check(s, stack);
    limits(s, stack);
    stack.pair(0.5, |k| paper::decision_rule(s, k), |k| paper::cautions(s, k));
    spelled(s, stack);
}

/// The instruments used, with every check.
fn instruments<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let used = s.a.gate.obligations.iter().filter(|o| o.kind == K::Instrument);
    let states: BTreeMap<&str, Verdict> = used.map(|o| (o.about.as_str(), o.state)).collect();
    let worst = states.values().max().copied();
    let right = worst.map(|w| {
        let n = states.values().filter(|v| **v == w).count();
        (w, format!("{n} {}", if w == Verdict::Within { "in order" } else { w.obligation_word() }))
    });
    stack.heading(
        "Instruments and their checks",
        "judged by what was known of them when each reading was taken",
        right,
    );
    let known = s.a.instruments.iter().filter(|i| states.contains_key(i.name.as_str()) || i.readings > 0);
    let known: Vec<&InstrumentView> = known.collect();
    if known.is_empty() {
        stack.paragraph("", "No reading names an instrument.");
        return;
    }
    let with = |i: &InstrumentView, v: f64| match i.unit {
        Some(kind) => s.a.units.scale(kind).exact_with(v),
        None => exact(v),
    };
    let stated = |i: &InstrumentView, v: Option<f64>| v.map_or("not stated".to_owned(), |v| with(i, v));
    let table = Table::of("Instruments", &known)
        .marks(|i| states.get(i.name.as_str()).copied())
        .text("instrument", |i| Cell::strong(i.name.as_str()))
        .text("number", |i| Cell::text(i.number.as_deref().unwrap_or("none")))
        .text("steps", |i| Cell::text(with(i, i.resolution)))
        .text("error up to", |i| Cell::text(stated(i, i.accuracy)))
        .text("repeats to", |i| Cell::text(stated(i, i.repeatability)))
        .words("checks", |i| Cell::text(checks(s, i)))
        .count("readings that count", |i| Cell::text(i.readings.to_string()));
    stack.table(table);
    let failed: Vec<String> =
        s.a.doubts
            .iter()
            .filter(|d| d.kind == assess::view::DoubtKind::FailedCheck)
            .map(|d| d.words.clone())
            .collect();
    if !failed.is_empty() {
        stack.note(&format!("{}.", capital(&few(&failed, 4))));
    }
}

fn checks(s: &Sheet<'_>, i: &InstrumentView) -> String {
    let mut said: Vec<String> =
        s.a.checks
            .iter()
            .filter(|c| c.what.instrument == i.name)
            .map(|c| {
                let word = if c.what.passed { "passed" } else { "FAILED" };
                format!("{word} {} (#{})", s.day(&c.on.when), c.on.entry)
            })
            .collect();
    if let (true, Some(checked)) = (said.is_empty(), &i.checked) {
        said.push(format!("passed {}", s.day(checked)));
    }
    if said.is_empty() {
        said.push("never checked".to_owned());
    }
    let due = match &i.due {
        Some(due) => format!("due {}", s.day(due)),
        None => "no date by which it must be checked".to_owned(),
    };
    let late = if i.past_due > 0 {
        format!("; {} past due", counted(i.past_due, "reading", "readings"))
    } else {
        String::new()
    };
    format!("{}; {due}{late}", said.join(", "))
}

fn zeros_and_notes<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    if s.a.zeros.is_empty() {
        notes(s, stack);
        return;
    }
    stack.pair(0.5, |k| zeros(s, k), |k| notes(s, k));
}

fn zeros<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let names: BTreeSet<&str> = s.a.zeros.iter().map(|z| z.instrument.as_str()).collect();
    stack.heading("Zeros found by reversing", &format!("{}, 95 %", degrees(s.angle())), None);
    if s.a.zeros.len() < 3 {
        for z in &s.a.zeros {
            let zero = spaced(&s.angle().with_u(z.zero_deg, z.u_deg).signed_with());
            let steady = if z.moved { "it MOVED within the round" } else { "steady" };
            let words =
                format!("round {}: {zero}, {steady} over {}.", z.round, counted(z.pairs, "pair", "pairs"));
            stack.paragraph(&format!("{},", capital(&z.instrument)), &words);
        }
        return;
    }
    let one = names.len() == 1;
    let dot = |(i, z): (usize, &ZeroView)| Dot {
        name: if one { z.round.to_string() } else { format!("{} {}", z.instrument, z.round) },
        state: Some(if z.moved { Verdict::Doubtful } else { Verdict::Within }),
        ..Dot::measured(many(i), z.zero_deg, z.u_deg)
    };
    let dots = Dots {
        dots: s.a.zeros.iter().enumerate().map(dot).collect(),
        limits: [None, None],
        signed: true,
        ..Dots::default()
    }
    .in_unit(s.angle());
    stack.figure(dots, "Zeros by round".to_owned(), PlotHeight { usual: 84.0, most: 120.0 });
    let moved: Vec<String> =
        s.a.zeros
            .iter()
            .filter(|z| z.moved)
            .map(|z| format!("{} in round {}", z.instrument, z.round))
            .collect();
    let names: Vec<&str> = names.into_iter().collect();
    let words = if moved.is_empty() {
        format!("{} by round: no zero moved by more than its uncertainty within a round.", names.join(", "))
    } else {
        format!("By round. It moved within the round: {}.", moved.join(", "))
    };
    stack.note(&words);
}

fn notes<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let a = s.a;
    stack.heading("Withdrawn, and notes", "", None);
    if a.withdrawn.is_empty() && a.notes.is_empty() {
        stack.paragraph("", "Withdrawn: nothing. Notes: none.");
        return;
    }
    let mut said: Vec<(Cell<'a>, String)> = Vec::new();
    for w in s.withdrawals() {
        said.push((Cell::strong(entries(w.entries())), s.withdrawal(&w)));
    }
    for n in &a.notes {
        let words = format!("{} {}: “{}”", n.on.by, s.day(&n.on.when), n.what.text);
        said.push((Cell::strong(format!("#{}", n.on.entry)), words));
    }
    let table = Table::of("Withdrawn, and notes", &said);
    stack.table(table.text("", |(at, _)| at.clone()).words("", |(_, words)| Cell::text(words.as_str())));
}

fn signatures<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let all = &s.a.signatures;
    let fit = all.iter().filter(|v| v.seal.is_sound()).count();
    let right = match all.len() {
        0 => None,
        n if fit == n => Some((Verdict::Within, format!("{fit} fit"))),
        n => Some((Verdict::Outside, format!("{} of {n} do not fit", n - fit))),
    };
    stack.heading("Signatures in the log", "Ed25519; each covers every entry up to the one it saw", right);
    if all.is_empty() {
        stack.paragraph("", "Nobody signed in the log.");
        return;
    }
    let covers = |v: &SignView| {
        let head = record::hex::grouped(&v.head, 8);
        format!("{}, head {head}, {}", signed::covers(v), v.gate.word())
    };
    let table = Table::of("Signatures", all)
        .marks(|v| Some(signed::fits(v)))
        .text("who", |v| Cell::strong(v.who.as_str()))
        .text("capacity", |v| Cell::text(v.capacity.as_str()))
        .words("words", |v| Cell::text(format!("“{}”", v.statement)))
        .text("when", |v| Cell::text(s.minute(&v.when)))
        .text("key fingerprint", |v| Cell::text(signed::key(v)))
        .text("covers", |v| Cell::text(covers(v)))
        .text("written after it", |v| Cell::text(v.since_words()));
    stack.table(table);
    let persons = match s.twice() {
        Some(who) => format!("{who} signed as builder and as inspector."),
        None => String::new(),
    };
    let words = "Compare a fingerprint with the one the person gives you, not with this paper.";
    stack.note(format!("{persons} {words}").trim());
}

/// The limits of the plan, three to a row.
fn limits<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let mut found: Vec<(String, String)> = Vec::new();
    let mut names: BTreeMap<(K, String), Vec<&str>> = BTreeMap::new();
    for o in s.a.gate.obligations.iter().filter(|o| o.kind != K::Rigging) {
        if let Some(limit) = &o.limit {
            names.entry((o.kind, limit.clone())).or_default().push(&o.about);
        }
    }
    for ((kind, limit), all) in &names {
        let label = match kind {
            K::Spot | K::Clearance => range(all),
            K::Neighbour => "step to the next station".to_owned(),
            K::Station => "station".to_owned(),
            K::Level => "posts, along".to_owned(),
            K::Cross => "posts, fore and aft".to_owned(),
            K::Square => "squareness".to_owned(),
            other => other.plural().to_owned(),
        };
        found.push((label, spaced(limit)));
    }
    if s.left_right() {
        found.push(("left against right".to_owned(), "not compared".to_owned()));
    }
    let looser = s.a.plan_changes.iter().filter(|c| c.looser).map(|c| c.entry);
    let changed = entries(looser);
    let changed = if changed.is_empty() { String::new() } else { format!("as changed at {changed}; ") };
    let note = format!("{changed}from the plan; the program invents none");
    if found.is_empty() && s.aeroplane() {
        return;
    }
    stack.heading("Limits in the plan", &note, None);
    if found.is_empty() {
        stack.paragraph("", "The plan has no limit.");
        return;
    }
    let rows: Vec<usize> = (0..found.len().div_ceil(3)).collect();
    let at = |row: usize, third: usize| found.get(row + third * rows.len()).cloned().unwrap_or_default();
    let mut table = Table::of("Limits", &rows);
    for third in 0..3 {
        table = table.words("", |row| Cell::text(at(*row, third).0));
        table = table.text("", |row| Cell::strong(at(*row, third).1));
    }
    stack.table(table);
}

/// A note if characters had to be spelled out.
fn spelled<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let spelled = s.set.spelled();
    if spelled.is_empty() {
        return;
    }
    let n = spelled.len();
    let words = format!(
        "{} of the log cannot be printed or seen: spelled by Unicode number, as in \\ u{{7}}.",
        counted(n, "character", "characters")
    );
    stack.note(&words);
}
