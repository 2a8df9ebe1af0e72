//! Tables: heads repeated on every page, figures lined up at the decimal point, long cells wrapped.

mod measure;
mod paint;

use super::Flow;
use crate::draw::{Ink, Pen, Role, Shape};
use crate::text::Face;
use assess::Verdict;
use measure::{Measured, MeasuredRow, measure};
use std::ops::Range;

/// How a column lines up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Align {
    Left,
    Right,
    /// At the decimal point.
    Point,
}

/// How wide a column is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Width {
    /// As wide as what is in it, up to this many points.
    Fit(f64),
    /// This share of what the others leave.
    Share(f64),
}

/// A column.
#[derive(Clone, Debug)]
pub(crate) struct Column {
    /// Its head; lines are parted by `\n`.
    pub head: &'static str,
    pub align: Align,
    pub width: Width,
}

impl Column {
    pub(crate) const fn text(head: &'static str, most: f64) -> Self {
        Self { head, align: Align::Left, width: Width::Fit(most) }
    }

    pub(crate) const fn words(head: &'static str, share: f64) -> Self {
        Self { head, align: Align::Left, width: Width::Share(share) }
    }

    pub(crate) const fn figures(head: &'static str) -> Self {
        Self { head, align: Align::Point, width: Width::Fit(110.0) }
    }

    pub(crate) const fn count(head: &'static str) -> Self {
        Self { head, align: Align::Right, width: Width::Fit(60.0) }
    }
}

/// The content of a cell.
#[derive(Clone, Debug)]
pub(crate) enum Cell {
    Empty,
    Text(String),
    Strong(String),
    /// A verdict: its shape and its word. Without one: what is said instead.
    Verdict(Option<Verdict>),
}

impl Cell {
    pub(crate) fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    pub(crate) fn maybe(text: Option<impl Into<String>>) -> Self {
        text.map_or(Self::Empty, |text| Self::Text(text.into()))
    }
}

/// A row, with remarks below it that stretch over its columns.
#[derive(Clone, Debug, Default)]
pub(crate) struct Row {
    pub cells: Vec<Cell>,
    pub notes: Vec<String>,
}

impl Row {
    pub(crate) const fn new(cells: Vec<Cell>) -> Self {
        Self { cells, notes: Vec::new() }
    }

    pub(crate) fn noted(mut self, note: Option<impl Into<String>>) -> Self {
        self.notes.extend(note.map(Into::into));
        self
    }
}

/// A table.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    /// Repeated with the heads on the next page, as what goes on there.
    pub name: &'static str,
    pub columns: Vec<Column>,
    pub rows: Vec<Row>,
    pub size: f64,
}

impl Table {
    /// Without the empty columns.
    pub(crate) fn without_empty_columns(mut self) -> Self {
        let filled: Vec<bool> = (0..self.columns.len())
            .map(|i| self.rows.iter().any(|row| !matches!(row.cells.get(i), None | Some(Cell::Empty))))
            .collect();
        let mut keep = filled.iter();
        self.columns.retain(|_| keep.next() == Some(&true));
        for row in &mut self.rows {
            let mut keep = filled.iter();
            row.cells.retain(|_| keep.next() == Some(&true));
        }
        self
    }
}

/// Space between the lines of a row and its rules.
const PAD: f64 = 2.1;
/// A table no higher than this is not broken.
const WHOLE: f64 = 150.0;

impl Flow<'_> {
    /// How high a table would be on one page.
    pub(crate) fn table_height(&self, table: &Table) -> f64 {
        measure(self.set, table, self.width()).height()
    }

    /// How much of a table must be on one page with its heading.
    pub(crate) fn table_keep(&self, table: &Table) -> f64 {
        measure(self.set, table, self.width()).keep()
    }

    /// A table over the whole width.
    pub(crate) fn table(&mut self, table: &Table) {
        let measured = measure(self.set, table, self.width());
        self.need(measured.keep());
        self.group(Role::Table, |flow| {
            flow.group(Role::TableHead, |flow| flow.table_head(&measured, true));
            flow.group(Role::TableBody, |flow| flow.table_rows(table, &measured));
        });
        let (left, right) = (self.left(), self.left() + self.width());
        self.furnish(vec![Shape::line(left, self.y, right, self.y, Pen::new(Ink::Slate, 0.8))]);
        self.y += 8.0;
    }

    fn table_head(&mut self, measured: &Measured, said: bool) {
        let (left, right, top) = (self.left(), self.left() + self.width(), self.y);
        self.furnish(vec![Shape::line(left, top, right, top, Pen::new(Ink::Slate, 0.8))]);
        let cells = paint::head(self.set, measured, left, top + PAD);
        if said {
            self.group(Role::Row, |flow| {
                for shapes in cells {
                    flow.group(Role::HeadCell, |flow| flow.mark(shapes));
                }
            });
        } else {
            self.furnish(cells.into_iter().flatten().collect());
        }
        self.y = top + measured.head_height() + 2.0 * PAD;
        self.furnish(vec![Shape::line(left, self.y, right, self.y, Pen::new(Ink::Slate, 0.5))]);
    }

    fn table_goes_on(&mut self, table: &Table, measured: &Measured) {
        self.new_page();
        let text = format!("{}, continued", table.name);
        let shape = Shape::text(self.left(), self.y + 7.5, 7.5, Face::Book, text);
        self.furnish(vec![shape.inked(Ink::Slate)]);
        self.y += 13.0;
        self.table_head(measured, false);
    }

    fn table_rows(&mut self, table: &Table, measured: &Measured) {
        let leading = measured.leading();
        for (index, row) in measured.rows.iter().enumerate() {
            let whole = row.height(leading) + 2.0 * PAD;
            let fits_a_page = whole < self.page_room() - measured.head_height() - 30.0;
            if self.room() < whole && (fits_a_page || self.room() < 5.0 * leading) {
                self.table_goes_on(table, measured);
            } else if index > 0 {
                let (left, right) = (self.left(), self.left() + self.width());
                self.furnish(vec![Shape::line(left, self.y, right, self.y, Pen::new(Ink::Pale, 0.4))]);
            }
            // A row taller than what is left of the page goes on in the next one, line by line.
            let mut from = 0;
            while from < row.lines() {
                let room = ((self.room() - 2.0 * PAD) / leading).floor().max(1.0);
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "at least 1, at most a page"
                )]
                let to = row.lines().min(from + room as usize);
                self.row_lines(measured, row, from..to);
                from = to;
                if from < row.lines() {
                    self.table_goes_on(table, measured);
                }
            }
        }
    }

    fn row_lines(&mut self, measured: &Measured, row: &MeasuredRow, lines: Range<usize>) {
        let (left, top, leading) = (self.left(), self.y + PAD, measured.leading());
        let place = |line: usize| {
            #[expect(clippy::cast_precision_loss, reason = "lines on a page")]
            let down = (line - lines.start) as f64;
            top + down * leading + measured.size * 0.95
        };
        self.group(Role::Row, |flow| {
            for (column, cell) in measured.columns.iter().zip(&row.cells) {
                let shapes = paint::cell(flow.set, measured.size, column, cell, left, &lines, place);
                if lines.start == 0 || !shapes.is_empty() {
                    flow.group(Role::Cell(1), |flow| flow.mark(shapes));
                }
            }
        });
        let notes = paint::notes(measured, row, left, &lines, place);
        if !notes.is_empty() {
            let span = u32::try_from(measured.columns.len()).unwrap_or(1);
            self.group(Role::Row, |flow| flow.group(Role::Cell(span), |flow| flow.mark(notes)));
        }
        #[expect(clippy::cast_precision_loss, reason = "lines on a page")]
        let height = lines.len() as f64 * leading;
        self.y = top + height + PAD;
    }
}
