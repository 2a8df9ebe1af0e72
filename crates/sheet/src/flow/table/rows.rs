//! Tables made column by column: each column says its head and its cell in every row.

use super::Table;
use super::column::{Align, Cell, Column, Width};
use assess::view::Verdict;

/// A table with a row for each of these things.
pub(crate) struct Rows<'i, 'a, T> {
    things: &'i [T],
    table: Table<'a>,
}

impl<'a> Table<'a> {
    /// A table with a row for each of these things; its columns follow. Its name is repeated with the heads on the next page, to say
    /// what continues there.
    pub(crate) fn of<T>(name: impl Into<String>, things: &[T]) -> Rows<'_, 'a, T> {
        let rows = things.iter().map(|_| Vec::new()).collect();
        Rows { things, table: Table { name: name.into(), columns: Vec::new(), rows } }
    }
}

impl<'i, 'a, T> Rows<'i, 'a, T> {
    fn column(
        mut self,
        head: impl Into<String>,
        align: Align,
        width: Width,
        cell: impl FnMut(&'i T) -> Cell<'a>,
    ) -> Self {
        self.table.columns.push(Column { head: head.into(), align, width });
        let cells = self.things.iter().map(cell);
        self.table.rows.iter_mut().zip(cells).for_each(|(row, cell)| row.push(cell));
        self
    }

    pub(crate) fn text(self, head: impl Into<String>, cell: impl FnMut(&'i T) -> Cell<'a>) -> Self {
        self.column(head, Align::Left, Width::Fit, cell)
    }

    /// Text in the width that the other columns leave.
    pub(crate) fn words(self, head: impl Into<String>, cell: impl FnMut(&'i T) -> Cell<'a>) -> Self {
        self.column(head, Align::Left, Width::Share, cell)
    }

    /// Numbers one above the other by their decimal mark.
    pub(crate) fn figures(self, head: impl Into<String>, cell: impl FnMut(&'i T) -> Cell<'a>) -> Self {
        self.column(head, Align::Point, Width::Fit, cell)
    }

    /// Whole numbers.
    pub(crate) fn count(self, head: impl Into<String>, cell: impl FnMut(&'i T) -> Cell<'a>) -> Self {
        self.column(head, Align::Right, Width::Fit, cell)
    }

    pub(crate) fn picture(
        self,
        head: impl Into<String>,
        width: f64,
        cell: impl FnMut(&'i T) -> Cell<'a>,
    ) -> Self {
        self.column(head, Align::Left, Width::Points(width), cell)
    }

    /// The mark of each row, where it has one.
    pub(crate) fn marks(self, mut state: impl FnMut(&'i T) -> Option<Verdict>) -> Self {
        self.picture("", 8.0, |thing| state(thing).map_or(Cell::Empty, |state| Cell::Mark(state, 7.0)))
    }
}

impl<'a, T> From<Rows<'_, 'a, T>> for Table<'a> {
    fn from(rows: Rows<'_, 'a, T>) -> Self {
        rows.table
    }
}
