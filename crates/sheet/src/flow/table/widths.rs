//! The widths of columns, and the positions of decimal marks.

use super::column::{Align, Cell, Column, Width};
use crate::draw::many;
use crate::flow::measure::{INDENT, TEXT};
use crate::text::{Face, Typesetter, wrap};

/// Least and largest space between columns.
const GAP: f64 = 8.0;
const WIDEST_GAP: f64 = 26.0;
/// A head does not make its column wider than this.
const HEAD_MOST: f64 = 84.0;
pub(super) const HEAD: f64 = 7.5;
/// The distance from one line of a head to the next.
pub(super) const HEAD_LEAD: f64 = 8.8;

/// A table's columns with their positions.
pub(crate) struct Measured {
    pub columns: Vec<Place>,
}

pub(crate) struct Place {
    /// From the left edge of the table.
    pub x: f64,
    pub width: f64,
    pub align: Align,
    /// Width of the part before the decimal mark.
    pub before: f64,
    pub head: Vec<String>,
}

impl Measured {
    pub(super) fn head_height(&self) -> f64 {
        let lines = self.columns.iter().map(|c| c.head.len()).max().unwrap_or(0);
        let lines = many(lines);
        if lines > 0.0 { lines * HEAD_LEAD + 3.4 } else { 0.0 }
    }
}

impl Place {
    /// Whether a text fits on one line.
    pub(super) fn fits(&self, set: &Typesetter, face: Face, text: &str, indent: f64) -> bool {
        let wide = match self.align {
            Align::Left => set.width(face, TEXT, text),
            Align::Right | Align::Point => set.width_in_cells(face, TEXT, text),
        };
        wide <= self.width - indent + 0.1
    }
}

/// A number split before its decimal mark.
pub(super) fn at_point(text: &str) -> (&str, &str) {
    let after_digits = || text.rfind(|c: char| c.is_ascii_digit()).map_or(text.len(), |at| at + 1);
    text.split_at(text.find('.').unwrap_or_else(after_digits))
}

/// Whether it is a number, which is aligned at its decimal mark, unlike words.
pub(super) fn is_figure(text: &str) -> bool {
    let first = text.chars().find(|c| !matches!(c, '+' | '-' | '>' | '<' | ' '));
    first.is_some_and(|c| c.is_ascii_digit())
}

/// Width of a column by its content.
#[derive(Clone, Copy, Default)]
struct Natural {
    width: f64,
    before: f64,
}

fn natural(set: &Typesetter, index: usize, column: &Column, rows: &[Vec<Cell<'_>>]) -> Natural {
    if let Width::Points(width) = column.width {
        return Natural { width, before: 0.0 };
    }
    let wide = |face: Face, text: &str| set.width_in_cells(face, TEXT, &set.visible(text));
    let plain = |face: Face, text: &str| set.width(face, TEXT, &set.visible(text));
    // A long head is broken into lines.
    let head = set.width(Face::Medium, HEAD, &column.head).min(HEAD_MOST);
    let (mut whole, mut before, mut after) = (head, 0.0_f64, 0.0_f64);
    for cell in rows.iter().filter_map(|row| row.get(index)) {
        let mut figures = |face: Face, text: &str, rest: &str| {
            let (front, back) = at_point(text);
            before = before.max(wide(face, front));
            after = after.max(wide(face, back) + wide(Face::Medium, rest));
        };
        match (cell, column.align) {
            (Cell::Value(value, rest), _) => figures(Face::SemiBold, value, rest),
            (Cell::Text(text), Align::Point) if is_figure(text) => figures(Face::Medium, text, ""),
            (Cell::Strong(text), Align::Point) if is_figure(text) => figures(Face::SemiBold, text, ""),
            (Cell::Text(text), Align::Right) => whole = whole.max(wide(Face::Medium, text)),
            (Cell::Strong(text), Align::Right) => whole = whole.max(wide(Face::SemiBold, text)),
            (Cell::Text(text), _) => whole = whole.max(plain(Face::Medium, text)),
            (Cell::Strong(text), _) => whole = whole.max(plain(Face::SemiBold, text)),
            (Cell::Word(_, word), _) => whole = whole.max(plain(Face::Medium, word) + INDENT),
            (Cell::Mark(_, size), _) => whole = whole.max(*size),
            (Cell::Page(_), _) => whole = whole.max(wide(Face::Medium, "page 99")),
            (Cell::Empty | Cell::Picture(..) | Cell::Blank(_), _) => {}
        }
    }
    Natural { width: whole.max(before + after) + 0.05, before }
}

/// Positions of the columns over this width: as wide as their content if that fits; otherwise words are wrapped, the
/// widest first.
pub(super) fn measure(set: &Typesetter, columns: &[Column], rows: &[Vec<Cell<'_>>], width: f64) -> Measured {
    let mut naturals: Vec<Natural> =
        columns.iter().enumerate().map(|(i, column)| natural(set, i, column, rows)).collect();
    let between = many(columns.len().saturating_sub(1).max(1));
    let room = width - between * GAP;
    let total = |n: &[Natural]| n.iter().map(|n| n.width).sum::<f64>();
    // Words give way first, then everything else.
    let words = |c: &Column| c.align == Align::Left && !matches!(c.width, Width::Points(_));
    for give in [true, false] {
        if total(&naturals) <= room {
            break;
        }
        let gives: Vec<usize> = (0..columns.len()).filter(|i| words(&columns[*i]) || !give).collect();
        let held = total(&naturals) - gives.iter().map(|i| naturals[*i].width).sum::<f64>();
        let cap = cap(gives.iter().map(|i| naturals[*i].width).collect(), (room - held).max(10.0));
        let least = if give { 38.0 } else { 6.0 };
        gives.iter().for_each(|i| naturals[*i].width = naturals[*i].width.min(cap.max(least)));
    }
    let spare = (room - total(&naturals)).max(0.0);
    let shares = columns.iter().filter(|c| c.width == Width::Share).count();
    let gap = if shares > 0 { GAP } else { GAP + (spare / between).min(WIDEST_GAP - GAP) };
    let share = spare / many(shares.max(1));
    let mut x = 0.0;
    let mut places = Vec::new();
    for (column, natural) in columns.iter().zip(naturals) {
        let width = natural.width + if column.width == Width::Share { share } else { 0.0 };
        let head = if column.head.is_empty() {
            Vec::new()
        } else {
            wrap(set, Face::Medium, HEAD, &column.head, width.max(24.0))
        };
        places.push(Place { x, width, align: column.align, before: natural.before, head });
        x += width + gap;
    }
    // A last column of figures ends at the right edge.
    if let Some(last) = places.last_mut().filter(|p| p.align != Align::Left) {
        last.x = last.x.max(width - last.width);
    }
    Measured { columns: places }
}

/// The largest width at which these columns together still fit.
fn cap(mut widths: Vec<f64>, room: f64) -> f64 {
    widths.sort_by(f64::total_cmp);
    let mut left = room;
    for (i, width) in widths.iter().enumerate() {
        let each = left / many(widths.len() - i);
        if *width > each {
            return each;
        }
        left -= width;
    }
    room
}
