//! Tables: heads repeated on the next page, figures aligned at the decimal mark, long cells wrapped.

mod column;
mod paint;
mod rows;
mod widths;

pub(crate) use column::Cell;

use super::Canvas;
use super::area::Area;
use super::measure::{INDENT, LEAD, PITCH, TEXT, fitted};
use super::piece::{Height, Stretch};
use super::stack::Stack;
use crate::draw::{Pen, Role, Shape, many};
use crate::text::{Face, wrap};
use std::rc::Rc;
use widths::{Measured, measure};

pub(crate) struct Table<'a> {
    name: String,
    columns: Vec<column::Column>,
    rows: Vec<Vec<Cell<'a>>>,
}

/// The most lines of a row that stay together; a longer row is cut into pieces of this length.
const LINES: usize = 24;

fn broken<'a>(stack: &Stack<'a>, cell: Cell<'a>, column: &widths::Place) -> paint::Broken<'a> {
    let (face, text, indent) = match &cell {
        Cell::Text(text) => (Face::Medium, text.as_str(), 0.0),
        Cell::Strong(text) => (Face::SemiBold, text.as_str(), 0.0),
        Cell::Word(_, word) => (Face::Medium, word.as_str(), INDENT),
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
    pub(crate) fn table(&mut self, table: impl Into<Table<'a>>) {
        let Table { name, columns, rows } = table.into();
        let measured = Rc::new(measure(self.set, &columns, &rows, self.width));
        let (whole, head, body) =
            (self.group(Role::Table), self.group(Role::TableHead), self.group(Role::TableBody));
        if columns.iter().any(|c| !c.head.is_empty()) {
            let within = self.inside(&[whole.clone(), head]);
            let height = measured.head_height();
            let draw = paint::head(&measured);
            let piece = self.push(Height::Fixed(height), Stretch::No, draw);
            (piece.within, piece.keep) = (within, true);
        }
        let again = self.again(format!("{name}, continued"), &measured);
        let within = self.inside(&[whole, body]);
        for row in rows {
            let boxes = row.iter().map(|cell| if let Cell::Blank(tall) = cell { *tall } else { PITCH });
            let tall = boxes.fold(PITCH, f64::max) - PITCH;
            let cells: Vec<paint::Broken<'a>> = row
                .into_iter()
                .zip(&measured.columns)
                .map(|(cell, column)| broken(self, cell, column))
                .collect();
            let lines = cells.iter().map(|c| c.lines.len()).max().unwrap_or(1).max(1);
            let cells = Rc::new(cells);
            for from in (0..lines).step_by(LINES) {
                let to = lines.min(from + LINES);
                let more = many(to - from - 1) * LEAD;
                let draw = paint::row(&measured, &cells, from..to, more, lines);
                let piece = self.push(Height::Row(more.max(tall)), Stretch::No, draw);
                piece.within = Rc::clone(&within);
                piece.again = Some(Rc::clone(&again));
            }
        }
    }

    /// What is repeated where a table continues: a line that says so, and the heads.
    fn again(&self, words: String, measured: &Rc<Measured>) -> Rc<super::Piece<'a>> {
        let words = fitted(self.set, 8.0, Face::Medium, &words, self.width);
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
mod tests;
