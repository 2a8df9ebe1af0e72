//! The cells of a table as shapes.

use super::Align;
use super::measure::{MARK, Measured, MeasuredCell, MeasuredColumn, MeasuredRow, at_point};
use crate::draw::{Anchor, Ink, Shape};
use crate::plot::verdict_mark;
use crate::text::{Face, Typesetter};
use std::ops::Range;

/// The head cells, their last lines on one level.
pub(super) fn head(set: &Typesetter, measured: &Measured, left: f64, top: f64) -> Vec<Vec<Shape>> {
    let size = measured.head_size();
    let most = measured.columns.iter().map(|c| c.head.len()).max().unwrap_or(0);
    let cell = |column: &MeasuredColumn| {
        let skip = most - column.head.len();
        let line = |(i, text): (usize, &String)| {
            #[expect(clippy::cast_precision_loss, reason = "a few lines")]
            let y = top + (skip + i) as f64 * size * 1.25 + size * 0.95;
            let right = left + column.x + column.width.max(set.width(Face::Bold, size, text));
            if column.align == Align::Left {
                Shape::text(left + column.x, y, size, Face::Bold, text.as_str())
            } else {
                Shape::text(right, y, size, Face::Bold, text.as_str()).anchored(Anchor::End)
            }
        };
        column.head.iter().enumerate().map(line).collect()
    };
    measured.columns.iter().map(cell).collect()
}

/// Those of a cell's lines that lie in the range, each with its baseline.
pub(super) fn cell(
    set: &Typesetter,
    size: f64,
    column: &MeasuredColumn,
    cell: &MeasuredCell,
    left: f64,
    lines: &Range<usize>,
    place: impl Fn(usize) -> f64,
) -> Vec<Shape> {
    let x = left + column.x;
    let ink = if cell.faint { Ink::Slate } else { Ink::Black };
    let mut shapes = Vec::new();
    for (index, line) in cell.lines.iter().enumerate().filter(|(i, _)| lines.contains(i)) {
        let y = place(index);
        let indent = if cell.verdict.is_some() { MARK * size } else { 0.0 };
        if index == 0 && cell.verdict.is_some() {
            shapes.extend(verdict_mark(cell.verdict, x + size * 0.42, y - size * 0.35, size * 0.38));
        }
        let text = if index + 1 < cell.lines.len() { format!("{line} ") } else { line.clone() };
        let shape = match column.align {
            Align::Left => Shape::text(x + indent, y, size, cell.face, text),
            Align::Right => {
                Shape::text(x + column.width, y, size, cell.face, line.as_str()).anchored(Anchor::End)
            }
            Align::Point => {
                let point = x + column.width - column.after_point;
                let start = point - set.width(cell.face, size, at_point(line).0);
                Shape::text(start.max(x), y, size, cell.face, text)
            }
        };
        shapes.push(shape.inked(ink));
    }
    shapes
}

/// Those of a row's remarks that lie in the range.
pub(super) fn notes(
    measured: &Measured,
    row: &MeasuredRow,
    left: f64,
    lines: &Range<usize>,
    place: impl Fn(usize) -> f64,
) -> Vec<Shape> {
    let before = row.cell_lines();
    let numbered = row.notes.iter().enumerate().map(|(i, note)| (before + i, note));
    numbered
        .filter(|(i, _)| lines.contains(i))
        .map(|(i, note)| {
            let shape =
                Shape::text(left + measured.size, place(i), measured.size, Face::Book, format!("{note} "));
            shape.inked(Ink::Slate)
        })
        .collect()
}
