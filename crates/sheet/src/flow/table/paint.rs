//! The cells of a table as shapes.

use super::column::{Align, Cell};
use super::widths::{HEAD, HEAD_LEAD, Measured, Place, at_point, is_figure};
use crate::draw::{Anchor, Pen, Role, Shape, many};
use crate::flow::area::Area;
use crate::flow::measure::{INDENT, LEAD, TEXT};
use crate::flow::piece::Draw;
use crate::flow::{Canvas, piece};
use crate::plot::mark;
use crate::text::Face;
use std::ops::Range;
use std::rc::Rc;

pub(super) struct Broken<'a> {
    pub cell: Cell<'a>,
    pub face: Face,
    pub lines: Vec<String>,
}

pub(super) fn head<'a>(measured: &Rc<Measured>) -> Draw<'a> {
    let measured = Rc::clone(measured);
    Rc::new(move |canvas: &mut Canvas<'_>, area: Area| {
        canvas.group(Role::Row, |canvas| {
            for column in &measured.columns {
                let lines = column.head.len();
                let line = |(i, text): (usize, &String)| {
                    let y = area.bottom() - 2.2 - many(lines - 1 - i) * HEAD_LEAD;
                    let x = area.x + column.x;
                    match column.align {
                        Align::Left | Align::Point => Shape::text(x, y, HEAD, Face::Medium, text.as_str()),
                        Align::Right => Shape::text(x + column.width, y, HEAD, Face::Medium, text.as_str())
                            .anchored(Anchor::End),
                    }
                };
                let shapes: Vec<Shape> = column.head.iter().enumerate().map(line).collect();
                canvas.group(Role::HeadCell, |canvas| canvas.mark(shapes));
            }
        });
    })
}

/// Some lines of a row, out of `of`; the rule below it comes with the last.
pub(super) fn row<'a>(
    measured: &Rc<Measured>,
    cells: &Rc<Vec<Broken<'a>>>,
    lines: Range<usize>,
    more: f64,
    of: usize,
) -> piece::Draw<'a> {
    let (measured, cells) = (Rc::clone(measured), Rc::clone(cells));
    let ends = lines.end == of;
    Rc::new(move |canvas: &mut Canvas<'_>, area: Area| {
        let first = area.y + (area.height - more) / 2.0 + 3.1;
        canvas.group(Role::Row, |canvas| {
            for (cell, column) in cells.iter().zip(&measured.columns) {
                canvas.group(Role::Cell(1), |canvas| one(canvas, cell, column, area, first, &lines));
            }
        });
        if ends {
            let y = area.bottom();
            canvas.furnish(vec![Shape::line(area.x, y, area.right(), y, Pen::ROW)]);
        }
    })
}

fn one(
    canvas: &mut Canvas<'_>,
    broken: &Broken<'_>,
    column: &Place,
    area: Area,
    first: f64,
    lines: &Range<usize>,
) {
    let (x, top) = (area.x + column.x, lines.start == 0);
    match &broken.cell {
        Cell::Mark(state, size) if top => canvas.state(*state, x + size / 2.0, first - 3.0, *size),
        Cell::Picture(draw, said) if top => {
            canvas.mark_said(said, draw(Area { x, width: column.width, ..area }));
        }
        Cell::Value(value, rest) if top => {
            let front = canvas.set.width_in_cells(Face::SemiBold, TEXT, at_point(value).0);
            let start = x + (column.before - front).max(0.0);
            let wide = canvas.set.width_in_cells(Face::SemiBold, TEXT, value);
            // Readers of the text would take the space in a figure's cell for a blank.
            canvas.mark_said(
                &format!("{value}{rest}"),
                vec![
                    Shape::text(start, first, TEXT, Face::SemiBold, value.as_str()).in_cells(),
                    Shape::text(start + wide, first, TEXT, Face::Medium, rest.as_str()).in_cells(),
                ],
            );
        }
        Cell::Page(chapter) if top => {
            let page = canvas.chapters.get(chapter).map_or_else(String::new, |page| format!("page {page}"));
            canvas.mark(vec![Shape::text(x, first, TEXT, Face::Medium, page)]);
        }
        Cell::Blank(_) if top => {
            let frame = Shape::rect(x, area.y + 2.0, column.width, area.height - 4.0, None, Some(Pen::LIMIT));
            canvas.mark(vec![frame]);
        }
        Cell::Page(_)
        | Cell::Empty
        | Cell::Mark(..)
        | Cell::Picture(..)
        | Cell::Value(..)
        | Cell::Blank(_) => {}
        Cell::Text(_) | Cell::Strong(_) | Cell::Word(..) => {
            let mut shapes = Vec::new();
            let mut indent = 0.0;
            if let Cell::Word(state, _) = &broken.cell {
                indent = INDENT;
                if top {
                    shapes.extend(mark(*state, x + 3.5, first - 3.0, 7.0));
                }
            }
            for (i, line) in broken.lines.iter().enumerate().filter(|(i, _)| lines.contains(i)) {
                let y = first + many(i - lines.start) * LEAD;
                let text = if i + 1 < broken.lines.len() { format!("{line} ") } else { line.clone() };
                let shape = match column.align {
                    Align::Point if is_figure(line) => {
                        let front = canvas.set.width_in_cells(broken.face, TEXT, at_point(line).0);
                        Shape::text(x + (column.before - front).max(0.0), y, TEXT, broken.face, text)
                            .in_cells()
                    }
                    Align::Left | Align::Point => Shape::text(x + indent, y, TEXT, broken.face, text),
                    Align::Right => Shape::text(x + column.width, y, TEXT, broken.face, line.as_str())
                        .anchored(Anchor::End)
                        .in_cells(),
                };
                shapes.push(shape);
            }
            match column.align {
                Align::Left => canvas.mark(shapes),
                Align::Right | Align::Point => {
                    let said = broken.lines.get(lines.clone()).unwrap_or(&broken.lines).join(" ");
                    canvas.mark_said(&said, shapes);
                }
            }
        }
    }
}
