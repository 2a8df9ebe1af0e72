//! Something that happened, with old and new.

use super::Sheet;
use super::changed::reworked;
use super::words::few;
use crate::flow::{Cell, Column, Table};
use assess::view::ReworkView;

/// An entry that changed something.
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
    /// Of an entry, with nothing old, nothing new and no reason yet.
    pub(super) fn of(s: &Sheet<'_>, entry: u64, when: &str, who: &str, what: String) -> Self {
        let none = || "–".to_owned();
        let (shown, when, who) = (format!("#{entry}"), s.minute(when), who.to_owned());
        Self { entry, shown, when, who, what, old: none(), new: none(), why: String::new() }
    }

    /// From the old to the new; what is empty is a dash.
    pub(super) fn from(mut self, old: &str, new: &str) -> Self {
        let side = |text: &str| if text.is_empty() { "–".to_owned() } else { text.to_owned() };
        (self.old, self.new) = (side(old), side(new));
        self
    }

    pub(super) fn because(mut self, why: &str) -> Self {
        why.clone_into(&mut self.why);
        self
    }

    /// Of several entries.
    pub(super) fn over(mut self, entries: String) -> Self {
        self.shown = entries;
        self
    }

    /// The keys of the plan that were changed and are wanted.
    pub(super) fn plan(s: &Sheet<'_>, wanted: impl Fn(&str) -> bool) -> Vec<Self> {
        let changes = s.a.plan_changes.iter().filter(|c| wanted(&c.key));
        changes
            .map(|c| {
                let replan = s.a.replans.iter().find(|r| r.written.entry == c.entry);
                let (when, who, why) =
                    replan.map_or(("", "", ""), |r| (&r.written.when, &r.written.by, r.text.as_str()));
                let what = format!("plan: {}{}", c.key, if c.looser { ", looser" } else { "" });
                Self::of(s, c.entry, when, who, what).from(&c.was, &c.now).because(why)
            })
            .collect()
    }

    pub(super) fn rework(s: &Sheet<'_>, r: &ReworkView) -> Self {
        let points: Vec<String> = r.points.iter().map(ToString::to_string).collect();
        let (old, new) = reworked(s, r);
        Self::of(s, r.entry, &r.when, &r.by, format!("rework: {}", r.what))
            .from(&old, &new)
            .because(&few(&points, 3))
    }

    /// What happened as a table, in the order of the entries.
    pub(super) fn table<'a>(mut all: Vec<Self>, name: &str, when: &str, why: &str) -> Table<'a> {
        all.sort_by_key(|e| e.entry);
        let row = |e: Self| {
            vec![
                Cell::Strong(e.shown),
                Cell::Text(e.when),
                Cell::Text(e.who),
                Cell::Strong(e.what),
                Cell::Text(e.old),
                Cell::Text(e.new),
                Cell::Text(e.why),
            ]
        };
        let heads = ["entry", when, "who", "what", "old", "new"];
        let columns = heads.map(Column::text).into_iter().chain([Column::words(why)]).collect();
        Table { name: name.to_owned(), columns, rows: all.into_iter().map(row).collect() }
    }
}
