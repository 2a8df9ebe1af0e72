//! One event, with old and new.

use super::Sheet;
use super::stages::shown;
use super::words::few;
use crate::flow::{Cell, Table};
use assess::view::{ObligationKind as K, StageFinding, Told};
use record::Rework;
use record::point::Place;

pub(super) struct Event {
    entry: u64,
    shown: String,
    when: String,
    who: String,
    what: String,
    old: String,
    new: String,
    why: String,
}

impl Event {
    /// An event from an entry, with old, new and reason still empty.
    pub(super) fn of(s: &Sheet<'_>, entry: u64, when: &str, who: &str, what: String) -> Self {
        let none = || "–".to_owned();
        let (shown, when, who) = (format!("#{entry}"), s.minute(when), who.to_owned());
        Self { entry, shown, when, who, what, old: none(), new: none(), why: String::new() }
    }

    /// From the old to the new; an empty text is a dash.
    pub(super) fn from(mut self, old: &str, new: &str) -> Self {
        let side = |text: &str| if text.is_empty() { "–".to_owned() } else { text.to_owned() };
        (self.old, self.new) = (side(old), side(new));
        self
    }

    pub(super) fn because(mut self, why: &str) -> Self {
        why.clone_into(&mut self.why);
        self
    }

    pub(super) fn over(mut self, entries: String) -> Self {
        self.shown = entries;
        self
    }

    /// The changed keys of the plan that are wanted.
    pub(super) fn plan(s: &Sheet<'_>, wanted: impl Fn(&str) -> bool) -> Vec<Self> {
        let changes = s.a.plan_changes.iter().filter(|c| wanted(&c.key));
        changes
            .map(|c| {
                let replan = s.a.replans.iter().find(|r| r.on.entry == c.entry);
                let (when, who, why) =
                    replan.map_or(("", "", ""), |r| (&r.on.when, &r.on.by, r.what.text.as_str()));
                let what = format!("plan: {}{}", c.key, if c.looser { ", looser" } else { "" });
                Self::of(s, c.entry, when, who, what).from(&c.was, &c.now).because(why)
            })
            .collect()
    }

    pub(super) fn rework(s: &Sheet<'_>, r: &Told<Rework>) -> Self {
        let points: Vec<String> = r.what.points.iter().map(ToString::to_string).collect();
        let (old, new) = reworked(s, r);
        Self::of(s, r.on.entry, &r.on.when, &r.on.by, format!("rework: {}", r.what.what))
            .from(&old, &new)
            .because(&few(&points, 3))
    }

    /// The events as a table, in entry order.
    pub(super) fn table<'a>(mut all: Vec<Self>, name: &str, when: &str, why: &str) -> Table<'a> {
        all.sort_by_key(|e| e.entry);
        Table::of(name, &all)
            .text("entry", |e| Cell::strong(e.shown.as_str()))
            .text(when, |e| Cell::text(e.when.as_str()))
            .text("who", |e| Cell::text(e.who.as_str()))
            .text("what", |e| Cell::strong(e.what.as_str()))
            .text("old", |e| Cell::text(e.old.as_str()))
            .text("new", |e| Cell::text(e.new.as_str()))
            .words(why, |e| Cell::text(e.why.as_str()))
            .into()
    }
}

/// The effect of a rework: for what its points are judged by, the value its stage had before it and the one after.
fn reworked(s: &Sheet<'_>, r: &Told<Rework>) -> (String, String) {
    let stage = s.a.stages.iter().find(|v| (v.on.entry..=v.last_entry).contains(&r.on.entry));
    let points = &r.what.points;
    let mine = |f: &StageFinding| match f.kind {
        K::Rigging => {
            let view = s.a.rigging.iter().find(|v| v.name == f.about);
            view.is_some_and(|v| v.points.iter().any(|p| points.contains(p)))
        }
        K::Spot => points.iter().any(|p| p.kind().row().place == Place::Spot && p.place() == f.about),
        _ => {
            s.a.points
                .iter()
                .filter(|p| points.contains(&p.point))
                .any(|p| p.judged_by.as_ref().is_some_and(|by| by.kind == f.kind && by.about == f.about))
        }
    };
    let after = |f: &&StageFinding| f.before.is_some() && f.last_entry > r.on.entry;
    let found = stage.iter().flat_map(|v| &v.found).filter(after).find(|f| mine(f));
    match found.and_then(|f| Some((f, f.before?))) {
        Some((f, was)) => (shown(s, &StageFinding { value: was.value, u: was.u, ..f.clone() }), shown(s, f)),
        None => ("–".to_owned(), "–".to_owned()),
    }
}
