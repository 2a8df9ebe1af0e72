//! The blank form on its pages: who and when, then a table for each kind of reading.

use super::{Sheet, first};
use crate::draw::{Pen, Role, Shape};
use crate::flow::{Break, Cell, Column, Piece, Row, Stack, Table};
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
    let (span, design) = (any(|r| r.span.is_some()), any(|r| r.design.is_some()));
    let (own, shows) = (any(|r| r.limits.is_some()), any(|r| r.shows.iter().any(Option::is_some)));
    let mut columns = vec![Column::text("place")];
    let optional = [(span, &group.span), (design, &group.design)];
    columns.extend(optional.into_iter().filter(|(has, _)| *has).map(|(_, head)| Column::figures(head)));
    columns.extend(own.then(|| Column::text("limits")));
    columns.extend((!group.facings.is_empty()).then(|| Column::text("first")));
    let value = ["value".to_owned()];
    for facing in if group.facings.is_empty() { value.as_slice() } else { group.facings.as_slice() } {
        columns.extend(shows.then(|| Column::figures("should show about")));
        columns.push(Column::picture(facing, BOX));
    }
    columns.push(Column::words("remark"));
    let row = |r: &BlankRow| -> Row<'static> {
        let mut cells = vec![Cell::strong(r.name.as_str())];
        cells.extend(span.then(|| Cell::maybe(r.span.as_deref())));
        cells.extend(design.then(|| Cell::maybe(r.design.as_deref())));
        cells.extend(own.then(|| Cell::text(r.limits.as_deref().unwrap_or("none"))));
        cells.extend((!group.facings.is_empty()).then(|| Cell::maybe(r.first.as_deref())));
        for about in &r.shows {
            cells.extend(shows.then(|| Cell::maybe(about.as_deref())));
            cells.push(Cell::Blank(TALL));
        }
        cells.push(Cell::Empty);
        cells
    };
    let rows = group.rows.iter().map(row).collect();
    stack.table(Table { name: group.title.clone(), columns, rows });
}
