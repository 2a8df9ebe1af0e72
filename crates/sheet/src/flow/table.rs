//! Tables: heads repeated on the next page, figures lined up at the decimal mark, long cells wrapped.

mod paint;
mod widths;

use super::Canvas;
use super::piece::{Area, Height, Stretch};
use super::stack::{LEAD, PITCH, Stack, TEXT};
use crate::draw::{Pen, Role, Shape};
use crate::text::{Face, wrap};
use assess::view::ObligationState;
use std::rc::Rc;
use widths::{Measured, measure};

/// How a column lines up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Align {
    Left,
    Right,
    /// At the decimal mark.
    Point,
}

/// How wide a column is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Width {
    /// As wide as what is in it, wrapped only where nothing else fits.
    Fit,
    /// What the others leave.
    Share,
    /// A width in points.
    Points(f64),
}

/// A column.
#[derive(Clone, Debug)]
pub(crate) struct Column {
    pub(super) head: String,
    pub(super) align: Align,
    pub(super) width: Width,
}

impl Column {
    pub(crate) fn text(head: impl Into<String>) -> Self {
        Self { head: head.into(), align: Align::Left, width: Width::Fit }
    }

    pub(crate) fn words(head: impl Into<String>) -> Self {
        Self { head: head.into(), align: Align::Left, width: Width::Share }
    }

    pub(crate) fn figures(head: impl Into<String>) -> Self {
        Self { head: head.into(), align: Align::Point, width: Width::Fit }
    }

    pub(crate) fn count(head: impl Into<String>) -> Self {
        Self { head: head.into(), align: Align::Right, width: Width::Fit }
    }

    /// A column of marks alone.
    pub(crate) fn marks() -> Self {
        Self { head: String::new(), align: Align::Left, width: Width::Points(8.0) }
    }

    pub(crate) fn picture(head: impl Into<String>, width: f64) -> Self {
        Self { head: head.into(), align: Align::Left, width: Width::Points(width) }
    }
}

/// A picture in a cell.
pub(crate) type CellPicture<'a> = Rc<dyn Fn(Area) -> Vec<Shape> + 'a>;

/// The content of a cell.
#[derive(Clone)]
pub(crate) enum Cell<'a> {
    Empty,
    Text(String),
    Strong(String),
    /// A value and what follows it: `+0.35` and ` ± 0.04°`.
    Value(String, String),
    /// A mark; its size.
    Mark(ObligationState, f64),
    /// A mark with its word.
    Word(ObligationState, String),
    /// The page on which a chapter begins.
    Page(&'static str),
    /// A picture, and what it says.
    Picture(CellPicture<'a>, String),
    /// An empty box to write in, in a row of this height.
    Blank(f64),
}

impl Cell<'_> {
    pub(crate) fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    pub(crate) fn strong(text: impl Into<String>) -> Self {
        Self::Strong(text.into())
    }

    pub(crate) fn maybe(text: Option<impl Into<String>>) -> Self {
        text.map_or(Self::Empty, |text| Self::Text(text.into()))
    }

    /// `+0.35 ±0.04°`, the value strong.
    pub(crate) fn value(shown: &str) -> Self {
        match shown.split_once(" ±") {
            Some((value, rest)) => Self::Value(value.to_owned(), format!(" ± {rest}")),
            None => Self::Strong(shown.to_owned()),
        }
    }
}

/// A row.
pub(crate) type Row<'a> = Vec<Cell<'a>>;

/// A table.
pub(crate) struct Table<'a> {
    /// Repeated with the heads on the next page, as what goes on there.
    pub name: String,
    pub columns: Vec<Column>,
    pub rows: Vec<Row<'a>>,
}

/// Most lines of a row that stay together; a longer row is cut into pieces of this length.
const LINES: usize = 24;

/// Puts a table on a stack.
pub(super) fn table<'a>(stack: &mut Stack<'a>, table: Table<'a>) {
    let Table { name, columns, rows } = table;
    let measured = Rc::new(measure(stack.set, &columns, &rows, stack.width));
    let (whole, head, body) =
        (stack.group(Role::Table), stack.group(Role::TableHead), stack.group(Role::TableBody));
    if columns.iter().any(|c| !c.head.is_empty()) {
        let within = stack.inside(&[whole.clone(), head]);
        let height = measured.head_height();
        let draw = paint::head(&measured);
        let piece = stack.push(Height::Fixed(height), Stretch::No, draw);
        (piece.within, piece.keep) = (within, true);
    }
    let again = stack.again(format!("{name}, continued"), &measured);
    let within = stack.inside(&[whole, body]);
    for row in rows {
        let boxes = row.iter().map(|cell| if let Cell::Blank(tall) = cell { *tall } else { PITCH });
        let tall = boxes.fold(PITCH, f64::max) - PITCH;
        let cells: Vec<paint::Broken<'a>> = row
            .into_iter()
            .zip(&measured.columns)
            .map(|(cell, column)| broken(stack, cell, column))
            .collect();
        let lines = cells.iter().map(|c| c.lines.len()).max().unwrap_or(1).max(1);
        let cells = Rc::new(cells);
        for from in (0..lines).step_by(LINES) {
            let to = lines.min(from + LINES);
            #[expect(clippy::cast_precision_loss, reason = "lines of a row")]
            let more = (to - from - 1) as f64 * LEAD;
            let draw = paint::row(&measured, &cells, from..to, more, to == lines);
            let piece = stack.push(Height::Row(more.max(tall)), Stretch::No, draw);
            piece.within = Rc::clone(&within);
            piece.again = Some(Rc::clone(&again));
        }
    }
}

/// A cell with its lines known.
fn broken<'a>(stack: &Stack<'a>, cell: Cell<'a>, column: &widths::Place) -> paint::Broken<'a> {
    let (face, text, indent) = match &cell {
        Cell::Text(text) => (Face::Medium, text.as_str(), 0.0),
        Cell::Strong(text) => (Face::SemiBold, text.as_str(), 0.0),
        Cell::Word(_, word) => (Face::Medium, word.as_str(), paint::INDENT),
        Cell::Empty
        | Cell::Value(..)
        | Cell::Mark(..)
        | Cell::Page(_)
        | Cell::Picture(..)
        | Cell::Blank(_) => (Face::Medium, "", 0.0),
    };
    let text = stack.set.visible(text);
    let lines = if text.is_empty() {
        Vec::new()
    } else if column.fits(stack.set, face, &text, indent) {
        vec![text.into_owned()]
    } else {
        wrap(stack.set, face, TEXT, &text, column.width - indent)
    };
    paint::Broken { cell, face, lines }
}

impl<'a> Stack<'a> {
    /// What is repeated where a table goes on: a line that says so, and the heads.
    fn again(&self, words: String, measured: &Rc<Measured>) -> Rc<super::Piece<'a>> {
        let words = super::stack::fitted(self.set, 8.0, &words, self.width);
        let head = paint::head(measured);
        let tall = measured.head_height();
        let draw = move |canvas: &mut Canvas<'_>, area: Area| {
            let base = area.y + 9.0;
            canvas.furnish(vec![
                Shape::text(area.x, base, 8.0, Face::Medium, words.as_str()),
                Shape::line(area.x, base + 4.0, area.right(), base + 4.0, Pen::HEADING),
            ]);
            head(canvas, Area { y: area.bottom() - tall, height: tall, ..area });
        };
        Rc::new(super::Piece {
            height: Height::Fixed(14.0 + tall),
            stretch: Stretch::No,
            keep: true,
            within: self.inside(&[]),
            again: None,
            breaks: None,
            draw: Rc::new(draw),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Paper;
    use crate::flow::{Grid, lay_out};
    use crate::text::Typesetter;

    /// Figures of any length, with and without decimals, with their ± and alone.
    #[test]
    fn decimal_marks_stand_under_one_another() {
        let set = Typesetter::new().unwrap();
        let mut stack = Stack::new(&set, 400.0);
        let shown = ["-0.004 ±0.020°", "+11.71 ±0.1°", "0.0 ±1.1 mm", "1111.7 ±0.3"];
        let rows =
            shown.iter().map(|s| vec![Cell::value(s), Cell::text(s.split(' ').next().unwrap())]).collect();
        let columns = vec![Column::figures("value"), Column::figures("alone")];
        stack.table(Table { name: String::new(), columns, rows });
        let drawing = lay_out(stack.into_pieces(), Grid::of(Paper::A4)).draw(&set, |_, _| Vec::new());
        let mut marks: [Vec<f64>; 2] = [Vec::new(), Vec::new()];
        for shape in drawing.pages.iter().flat_map(|p| &p.marks).flat_map(|m| &m.shapes) {
            if let Shape::Text(text) = shape
                && let Some((front, _)) = text.text.split_once('.')
                && !text.text.contains('±')
            {
                let place = text.x + set.width_in_cells(text.face, text.size, front);
                marks[usize::from(text.face == Face::Medium)].push(place);
            }
        }
        for column in marks {
            assert_eq!(column.len(), shown.len());
            let (least, most) = column.iter().fold((f64::MAX, 0.0_f64), |(l, m), p| (l.min(*p), m.max(*p)));
            assert!(most - least < 0.2, "{column:?}");
        }
    }
}
