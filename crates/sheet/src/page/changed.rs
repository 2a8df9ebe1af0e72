//! Everything that was changed, old and new, and whether anything moved since the stage before.

use super::Sheet;
use super::stages::shown;
use super::words::{capital, few, spaced};
use crate::flow::{Cell, Column, Row, Stack, Table};
use assess::view::{ObligationKind as K, StageFinding};
use quantity::shown::{WithU, exact};
use record::OpenAction;

/// Everything that was changed, with old and new.
pub(super) fn changed<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let a = s.a;
    let mut rows: Vec<(u64, Row<'a>)> = Vec::new();
    let side = |text: &str| if text.is_empty() { "–".to_owned() } else { text.to_owned() };
    let mut push = |entry: u64, when: &str, who: &str, what: String, old: String, new: String, why: &str| {
        let row: Row<'a> = vec![
            Cell::strong(format!("#{entry}")),
            Cell::text(s.minute(when)),
            Cell::text(who),
            Cell::strong(what),
            Cell::Text(old),
            Cell::Text(new),
            Cell::text(why),
        ];
        rows.push((entry, row));
    };
    for m in &a.moves {
        let mm = exact((m.amount_mm * 100.0).round() / 100.0);
        let new = if m.amount_mm > 0.0 { format!("+{mm} mm") } else { format!("{mm} mm") };
        push(m.entry, &m.when, &m.by, format!("moved {}", m.support), "–".to_owned(), new, &m.text);
    }
    for c in &a.plan_changes {
        let replan = a.replans.iter().find(|r| r.written.entry == c.entry);
        let (when, who, why) = replan.map_or(("", "", ""), |r| (&r.written.when, &r.written.by, &r.text));
        let what = format!("plan: {}{}", c.key, if c.looser { ", looser" } else { "" });
        push(c.entry, when, who, what, side(&c.was), side(&c.now), why);
    }
    for r in &a.reworks {
        let points: Vec<String> = r.points.iter().map(ToString::to_string).collect();
        let (old, new) = reworked(s, r.entry);
        push(r.entry, &r.when, &r.by, format!("rework: {}", r.what), old, new, &few(&points, 3));
    }
    for i in &a.open_items {
        let now = match i.action {
            OpenAction::Opened => "open",
            OpenAction::Closed => "closed",
            OpenAction::Carried => "carried past",
        };
        let old = if i.action == OpenAction::Opened { "–" } else { "open" };
        let why = i.reason.as_deref().unwrap_or("");
        push(i.entry, &i.when, &i.by, format!("open: {}", i.item), old.to_owned(), now.to_owned(), why);
    }
    for v in a.stages.iter().filter(|v| v.reason.is_some() || !v.passed.is_empty()) {
        let over = if v.passed.is_empty() { &v.unmet } else { &v.passed };
        let why = v.reason.as_deref().unwrap_or("no reason given");
        push(
            v.entry,
            &v.when,
            &v.by,
            format!("stage: {}", v.name),
            format!("over {}", few(over, 2)),
            "begun".to_owned(),
            why,
        );
    }
    rows.sort_by_key(|(entry, _)| *entry);
    let nothing: Vec<&str> = [
        ("moved", a.moves.is_empty()),
        ("plan changed", a.plan_changes.is_empty()),
        ("reworked", a.reworks.is_empty()),
    ]
    .into_iter()
    .filter_map(|(what, empty)| empty.then_some(what))
    .collect();
    let note = if nothing.is_empty() { String::new() } else { format!("nothing: {}", nothing.join(", ")) };
    stack.heading("What was changed, old and new", &note, None);
    if rows.is_empty() {
        stack.paragraph("", "Nothing was moved, changed, reworked or left open.");
        return;
    }
    stack.table(Table {
        name: "What was changed".to_owned(),
        columns: vec![
            Column::text("entry"),
            Column::text("when"),
            Column::text("who"),
            Column::text("what"),
            Column::text("old"),
            Column::text("new"),
            Column::words("why, and how"),
        ],
        rows: rows.into_iter().map(|(_, row)| row).collect(),
    });
}

/// What a rework changed: the value of its stage before and after it, where there are both.
fn reworked(s: &Sheet<'_>, entry: u64) -> (String, String) {
    let stage = s.a.stages.iter().find(|v| (v.entry..=v.last_entry).contains(&entry));
    let found = stage
        .iter()
        .flat_map(|v| &v.found)
        .find(|f| f.before.is_some() && f.last_entry > entry && f.kind != K::Station);
    match found.and_then(|f| Some((f, f.before?))) {
        Some((f, was)) => (shown(&StageFinding { value: was.value, u: was.u, ..f.clone() }), shown(f)),
        None => ("–".to_owned(), "–".to_owned()),
    }
}

/// Whether anything moved since the stage before.
pub(super) fn since<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.heading("Did anything move since the stage before?", "", None);
    let Some(changes) = &s.a.changes else {
        stack.paragraph("", "Not known: there are no two profiles to compare.");
        return;
    };
    let value = |change: f64, u: f64| spaced(&WithU::of_u(change, u).signed_with("deg"));
    let parts: Vec<String> = changes
        .parts
        .iter()
        .map(|p| format!("the {} changed by {}", p.part, value(p.change_deg, p.u_deg)))
        .collect();
    let moved: Vec<String> = changes
        .stations
        .iter()
        .filter(|c| c.real)
        .map(|c| format!("{} {}", c.name, value(c.change_deg, c.u_deg)))
        .chain(changes.parts.iter().filter(|p| p.real).map(|p| p.part.clone()))
        .collect();
    let largest = changes.stations.iter().max_by(|a, b| a.change_deg.abs().total_cmp(&b.change_deg.abs()));
    let largest = largest.map_or_else(String::new, |c| {
        format!(" The largest is {}, {}.", c.name, value(c.change_deg, c.u_deg))
    });
    let parts = if parts.is_empty() { String::new() } else { format!(" {}.", capital(&parts.join("; "))) };
    let test = " Two-sided test at 5 %, shared among the stations.";
    if moved.is_empty() {
        let words = format!(
            "Since {} no station changed by more than measurement.{largest}{parts}{test}",
            changes.since
        );
        stack.paragraph("No.", &words);
    } else {
        let words =
            format!("Since {}, by more than measurement: {}.{parts}{test}", changes.since, few(&moved, 6));
        stack.paragraph("Yes.", &words);
    }
}
