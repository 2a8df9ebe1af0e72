//! The blank form on its pages: who and when, then a table for each kind of reading.

use super::{Sheet, first};
use crate::draw::{Pen, Role, Shape};
use crate::flow::{Break, Cell, Piece, Stack, Table};
use crate::text::Face;
use crate::wanted::{Blank, BlankGroup, BlankRow};
use quantity::{Kind, Unit};

/// A row with a box: 8.5 mm, room for handwriting.
const TALL: f64 = 24.0;
const BOX: f64 = 65.0;

pub(crate) fn form<'a>(s: &Sheet<'a>, blank: &Blank) -> Vec<Piece<'a>> {
    let mut stack = Stack::new(s.set, s.grid.width);
    stack.chapter(Break::Always("form"));
    first::title(s, &mut stack, "Blank form, to fill in at the jig", &s.a.wing, s.a.side.word());
    stack.paragraph("To measure:", &blank.stage);
    let warm = match s.a.units.scale(Kind::Temperature).unit() {
        Unit::Fahrenheit => "temperature, °F",
        _ => "temperature, °C",
    };
    lines(&mut stack, [("date", 0.0, 0.30), ("begun at", 0.34, 0.28), (warm, 0.66, 0.34)]);
    lines(&mut stack, [("measured by", 0.0, 0.30), ("ended at", 0.34, 0.28), ("signature", 0.66, 0.34)]);
    for group in &blank.groups {
        table(&mut stack, group);
    }
    stack.fixed(6.0, |_, _| ());
    if blank.groups.iter().any(|group| !group.facings.is_empty()) {
        stack.note(
            "Forward: the arrow of the level toward the leading edge; for a tilt along the span, outboard. Aft: turned end for end \
             on the same marks. A level turned once a place is read faster: begin with the facing under “first”.",
        );
    }
    stack.note(
        "Write what the instrument shows, with its sign. Then type the columns with jigtrue take, or fill in jigtrue form --csv \
         and import it. A page filled in is no record until it is in the log.",
    );
    stack.into_pieces()
}

/// Words, each with a line to write on, with their start and width as shares of the whole width.
fn lines(stack: &mut Stack<'_>, fields: [(&'static str, f64, f64); 3]) {
    stack.fixed(TALL, move |canvas, area| {
        let base = area.bottom() - 4.0;
        let mut ends = Vec::new();
        let mut words = Vec::new();
        for (word, from, share) in fields {
            let x = area.x + from * area.width;
            let start = x + canvas.set.width(Face::Medium, 8.5, word) + 5.0;
            words.push(Shape::text(x, base, 8.5, Face::Medium, word));
            ends.push([(start, base + 1.5), (x + share * area.width, base + 1.5)]);
        }
        canvas.said(Role::Paragraph, words);
        canvas.furnish(vec![Shape::Lines { ends, pen: Pen::ROW }]);
    });
}

fn table(stack: &mut Stack<'_>, group: &BlankGroup) {
    let with = group.instrument.clone();
    let with = with.unwrap_or_else(|| format!("instrument and number {}", "_".repeat(36)));
    stack.heading(&group.title, &with, None);
    if !group.limits.is_empty() {
        stack.paragraph("Limits:", &group.limits.join(", "));
        stack.keep();
    }
    let any = |of: fn(&BlankRow) -> bool| group.rows.iter().any(of);
    let value = ["value".to_owned()];
    let facings = if group.facings.is_empty() { value.as_slice() } else { group.facings.as_slice() };
    let mut table = Table::of(group.title.as_str(), &group.rows);
    table = table.text("place", |r| Cell::strong(r.name.as_str()));
    if any(|r| r.span.is_some()) {
        table = table.figures(group.span.as_str(), |r| Cell::maybe(r.span.as_deref()));
    }
    if any(|r| r.design.is_some()) {
        table = table.figures(group.design.as_str(), |r| Cell::maybe(r.design.as_deref()));
    }
    if any(|r| r.limits.is_some()) {
        table = table.text("limits", |r| Cell::text(r.limits.as_deref().unwrap_or("none")));
    }
    if !group.facings.is_empty() {
        table = table.text("first", |r| Cell::maybe(r.first.as_deref()));
    }
    for (i, facing) in facings.iter().enumerate() {
        if any(|r| r.shows.iter().any(Option::is_some)) {
            let about = |r: &BlankRow| Cell::maybe(r.shows.get(i).and_then(Option::as_deref));
            table = table.figures("should show about", about);
        }
        table = table.picture(facing.as_str(), BOX, |_| Cell::Blank(TALL));
    }
    stack.table(table.words("remark", |_| Cell::Empty));
}
