//! Who signed in the log, and where to sign on paper.

use super::Sheet;
use crate::draw::{Anchor, Pen, Role, Shape};
use crate::flow::{Area, Cell, Column, Row, Stack, Stretch, Table};
use crate::text::Face;
use assess::view::{SignView, Verdict};
use quantity::shown::counted;
use record::hex::grouped;

/// Sign-offs shown on the first page.
const SHOWN: usize = 4;

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
    let row = |v: &SignView| -> Row<'a> {
        let since = match v.entries_since {
            0 => "nothing".to_owned(),
            1 => format!("1 entry (#{})", v.entries + 2),
            n => format!("{n} entries"),
        };
        vec![
            Cell::strong(v.who.as_str()),
            Cell::text(format!("{}, “{}”", v.capacity, v.statement)),
            Cell::text(s.minute(&v.when)),
            if v.seal.is_sound() { Cell::text(key(v)) } else { Cell::Word(Verdict::Outside, key(v)) },
            Cell::text(covers(v)),
            Cell::text(if v.rule_0_1 { "clear by the rule of 0.1" } else { v.gate.word() }),
            Cell::text(since),
        ]
    };
    let columns = [
        Column::text("who"),
        Column::words("capacity and words"),
        Column::text("when"),
        Column::text("key fingerprint"),
        Column::text("covers entries"),
        Column::text("gate then"),
        Column::text("written since"),
    ];
    stack.table(Table::new("Signed in the log", columns, all.iter().skip(skipped).map(row).collect()));
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
    let about = super::verdict::cut(canvas.set, 8.5, Face::Medium, about, area.width - 80.0);
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
