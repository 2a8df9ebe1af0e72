//! Who signed in the log, and where to sign on paper.

use super::Sheet;
use crate::draw::{Anchor, Pen, Role, Shape};
use crate::flow::{Area, Cell, Stack, Stretch, Table, cut};
use crate::text::Face;
use assess::view::{SignView, Verdict};
use quantity::shown::counted;
use record::hex::grouped;

/// Sign-offs shown on the first page.
const SHOWN: usize = 4;

/// Whether the signature fits, as the verdict that its mark shows.
pub(super) const fn fits(s: &SignView) -> Verdict {
    if s.seal.is_sound() { Verdict::Within } else { Verdict::Outside }
}

/// A key's first digits, or what is wrong with the signature.
pub(super) fn key(s: &SignView) -> String {
    match &s.key {
        _ if !s.seal.is_sound() => s.seal_words(),
        Some(key) => grouped(key, 16),
        None => "no key".to_owned(),
    }
}

pub(super) fn covers(s: &SignView) -> String {
    match s.entries_uncovered {
        0 => format!("#1 to #{}", s.entries),
        n => format!(
            "#1 to #{}, not {}",
            s.entries,
            counted(usize::try_from(n).unwrap_or(usize::MAX), "entry", "entries")
        ),
    }
}

pub(super) fn table<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let all = &s.a.signatures;
    if all.is_empty() {
        stack.heading("Signed in the log", "nobody signed in the log", None);
        stack.fixed(2.0, |_, _| ());
        return;
    }
    let skipped = all.len().saturating_sub(SHOWN);
    let note = match skipped {
        0 => "each covers the entries before it; the program checked each against its key".to_owned(),
        n => format!("the last {SHOWN}; {} before them in the log", counted(n, "sign-off", "sign-offs")),
    };
    stack.heading("Signed in the log", &note, None);
    let since = |v: &SignView| match v.entries_since {
        0 => "nothing".to_owned(),
        1 => format!("1 entry (#{})", v.entries + 2),
        n => format!("{n} entries"),
    };
    let table = Table::of("Signed in the log", &all[skipped..])
        .text("who", |v| Cell::strong(v.who.as_str()))
        .words("capacity and words", |v| Cell::text(format!("{}, “{}”", v.capacity, v.statement)))
        .text("when", |v| Cell::text(s.minute(&v.when)))
        .text("key fingerprint", |v| match fits(v) {
            Verdict::Within => Cell::text(key(v)),
            bad => Cell::Word(bad, key(v)),
        })
        .text("covers entries", |v| Cell::text(covers(v)))
        .text("gate then", |v| {
            Cell::text(if v.rule_0_1 { "clear by the rule of 0.1" } else { v.gate.word() })
        })
        .text("written since", |v| Cell::text(since(v)));
    stack.table(table);
}

/// Two boxes to sign in ink, each saying what is signed.
pub(super) fn boxes<'a>(stack: &mut Stack<'a>, about: &str) {
    let mm = 72.0 / 25.4;
    let about = about.to_owned();
    stack.fixed(8.0, |_, _| ());
    stack.keep();
    stack.stretched(16.5 * mm, Stretch::Boxes(30.0 * mm), move |canvas, area| {
        let gap = 4.5 * mm;
        let wide = (area.width - gap) / 2.0;
        for (i, who) in ["Builder", "Inspector"].into_iter().enumerate() {
            let x = if i == 0 { area.x } else { area.x + wide + gap };
            one(canvas, Area { x, width: wide, ..area }, who, &about);
        }
    });
}

fn one(canvas: &mut crate::flow::Canvas<'_>, area: Area, who: &str, about: &str) {
    let base = area.bottom() - 7.0;
    let places = [("name, capacity", 7.0, 0.40), ("signature", 0.45, 0.32), ("date", 0.81, 0.165)];
    let about = cut(canvas.set, 8.5, Face::Medium, about, area.width - 80.0);
    let mut shapes = vec![
        Shape::text(area.x + 7.0, area.y + 12.0, 8.5, Face::SemiBold, who),
        Shape::text(area.right() - 7.0, area.y + 12.0, 8.5, Face::Medium, about).anchored(Anchor::End),
    ];
    let mut lines = Vec::new();
    for (name, from, width) in places {
        let x = area.x + if from > 1.0 { from } else { from * area.width };
        shapes.push(Shape::text(x, base, 8.0, Face::Medium, name));
        lines.push([(x, base - 9.5), (x + width * area.width - 8.0, base - 9.5)]);
    }
    canvas.said(Role::Paragraph, shapes);
    canvas.furnish(vec![
        Shape::Lines { ends: lines, pen: Pen::ROW },
        Shape::rect(area.x, area.y, area.width, area.height, None, Some(Pen::LIMIT)),
    ]);
}
