//! Everything that was changed, old and new, and whether anything moved since the stage before.

use super::Sheet;
use super::event::Event;
use super::stages::why;
use super::words::{few, spaced};
use crate::flow::Stack;
use quantity::shown::capital;
use record::OpenAction;

/// Everything that was changed, with old and new.
pub(super) fn changed<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let a = s.a;
    let mut all: Vec<Event> = Vec::new();
    for m in &a.moves {
        let event = Event::of(s, m.on.entry, &m.on.when, &m.on.by, format!("moved {}", m.what.support));
        all.push(event.from("", &s.amount(&m.what)).because(&m.what.text));
    }
    all.extend(Event::plan(s, |_| true));
    all.extend(a.reworks.iter().map(|r| Event::rework(s, r)));
    for i in &a.open_items {
        let (old, now) = match i.action {
            OpenAction::Opened => ("", "open"),
            OpenAction::Closed => ("open", "closed"),
            OpenAction::Carried => ("open", "carried past"),
        };
        let event = Event::of(s, i.entry, &i.when, &i.by, format!("open: {}", i.item));
        all.push(event.from(old, now).because(i.reason.as_deref().unwrap_or("")));
    }
    for v in a.stages.iter().filter(|v| v.reason.is_some() || !v.passed.is_empty()) {
        let over = if v.passed.is_empty() { &v.unmet } else { &v.passed };
        let event = Event::of(s, v.on.entry, &v.on.when, &v.on.by, format!("stage: {}", v.name));
        all.push(event.from(&format!("over {}", few(over, 2)), "begun").because(why(v)));
    }
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
    if all.is_empty() {
        stack.paragraph("", "Nothing was moved, changed, reworked or left open.");
        return;
    }
    stack.table(Event::table(all, "What was changed", "when", "why, and how"));
}

/// Whether anything moved since the stage before.
pub(super) fn since<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.heading("Did anything move since the stage before?", "", None);
    let Some(changes) = &s.a.changes else {
        stack.paragraph("", "Not known: there are no two profiles to compare.");
        return;
    };
    let value = |change: f64, u: f64| spaced(&s.angle().with_u(change, u).signed_with());
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
