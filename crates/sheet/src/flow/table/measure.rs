//! How wide the columns are and where the lines of every cell break.

use super::{Align, Cell, PAD, Table, WHOLE, Width};
use crate::text::{Face, Typesetter, wrap};
use assess::Verdict;

/// Space between columns at least.
const GAP: f64 = 7.0;
/// Least width of a column that shares what is left.
const SHARE_LEAST: f64 = 70.0;
/// Before a verdict's word, in units of the size: its shape.
pub(super) const MARK: f64 = 1.15;

/// A table with every line known.
pub(super) struct Measured {
    pub size: f64,
    pub columns: Vec<MeasuredColumn>,
    pub rows: Vec<MeasuredRow>,
}

pub(super) struct MeasuredColumn {
    /// From the left edge of the table.
    pub x: f64,
    pub width: f64,
    pub align: Align,
    /// Width right of the decimal point, the point with it.
    pub after_point: f64,
    pub head: Vec<String>,
}

pub(super) struct MeasuredRow {
    pub cells: Vec<MeasuredCell>,
    pub notes: Vec<String>,
}

pub(super) struct MeasuredCell {
    pub lines: Vec<String>,
    pub face: Face,
    pub faint: bool,
    pub verdict: Option<Verdict>,
}

impl Measured {
    pub(super) fn leading(&self) -> f64 {
        self.size * 1.32
    }

    pub(super) fn head_size(&self) -> f64 {
        self.size * 0.92
    }

    pub(super) fn head_height(&self) -> f64 {
        let lines = self.columns.iter().map(|c| c.head.len()).max().unwrap_or(0);
        #[expect(clippy::cast_precision_loss, reason = "a few lines")]
        let lines = lines as f64;
        lines * self.head_size() * 1.25
    }
}

impl Measured {
    /// Height on one page, with the space below.
    pub(super) fn height(&self) -> f64 {
        let rows: f64 = self.rows.iter().map(|row| row.height(self.leading()) + 2.0 * PAD).sum();
        self.head_height() + 2.0 * PAD + rows + 8.0
    }

    /// What is not parted: a short table, or the heads and the first two rows of a long one.
    pub(super) fn keep(&self) -> f64 {
        let rows = self.rows.iter().take(2).map(|row| row.height(self.leading()).min(60.0) + 2.0 * PAD);
        let first = self.head_height() + 2.0 * PAD + rows.sum::<f64>();
        let whole = self.height();
        if whole <= WHOLE { whole } else { first }
    }
}

impl MeasuredRow {
    /// Lines of its tallest cell and of its notes.
    pub(super) fn lines(&self) -> usize {
        self.cell_lines() + self.notes.len()
    }

    pub(super) fn cell_lines(&self) -> usize {
        self.cells.iter().map(|c| c.lines.len()).max().unwrap_or(0).max(1)
    }

    pub(super) fn height(&self, leading: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "lines of a row")]
        let lines = self.lines() as f64;
        lines * leading
    }
}

pub(super) fn measure(set: &Typesetter, table: &Table, width: f64) -> Measured {
    let rows: Vec<(Vec<Said>, Vec<String>)> = table
        .rows
        .iter()
        .map(|row| {
            let notes = row.notes.iter().map(|n| set.visible(n).into_owned()).collect();
            (row.cells.iter().map(|cell| said(set, cell)).collect(), notes)
        })
        .collect();
    // A table that is too wide is set smaller, in two or three tries, and at last squeezed.
    let mut size = table.size;
    let mut widths = natural(set, table, &rows, size);
    for _ in 0..3 {
        let needed = needed(table, &widths);
        if needed <= width || size < 5.0 {
            break;
        }
        size = (size * (width / needed) * 0.99).max(4.8);
        widths = natural(set, table, &rows, size);
    }
    share_out(table, &mut widths, width);
    let columns = places(set, table, &widths, size, width);
    let rows = rows
        .into_iter()
        .map(|(cells, notes)| MeasuredRow {
            cells: cells
                .into_iter()
                .zip(&columns)
                .map(|(cell, column)| broken(set, cell, column, size))
                .collect(),
            notes: notes.iter().flat_map(|n| wrap(set, Face::Book, size, n, width - size)).collect(),
        })
        .collect();
    Measured { size, columns, rows }
}

struct Said {
    text: String,
    face: Face,
    faint: bool,
    verdict: Option<Verdict>,
}

fn said(set: &Typesetter, cell: &Cell) -> Said {
    let plain =
        |text: &str, face| Said { text: set.visible(text).into_owned(), face, faint: false, verdict: None };
    match cell {
        Cell::Empty => plain("", Face::Book),
        Cell::Text(text) => plain(text, Face::Book),
        Cell::Strong(text) => plain(text, Face::Bold),
        Cell::Verdict(None) => Said { faint: true, ..plain("no tolerance", Face::Book) },
        Cell::Verdict(Some(verdict)) => {
            let face = if *verdict == Verdict::Within { Face::Book } else { Face::Bold };
            Said { verdict: Some(*verdict), ..plain(verdict.word(), face) }
        }
    }
}

/// Width of a column by its content: the whole, and the part right of the decimal point.
#[derive(Clone, Copy, Default)]
struct Natural {
    whole: f64,
    after: f64,
}

fn natural(set: &Typesetter, table: &Table, rows: &[(Vec<Said>, Vec<String>)], size: f64) -> Vec<Natural> {
    let head_size = size * 0.92;
    let column = |(index, column): (usize, &super::Column)| {
        let head =
            column.head.split('\n').map(|line| set.width(Face::Bold, head_size, line)).fold(0.0, f64::max);
        let (mut whole, mut before, mut after) = (head, 0.0_f64, 0.0_f64);
        for cell in rows.iter().filter_map(|(cells, _)| cells.get(index)) {
            let wide = |text: &str| set.width(cell.face, size, text);
            if column.align == Align::Point {
                let (front, back) = at_point(&cell.text);
                before = before.max(wide(front));
                after = after.max(wide(back));
            } else {
                let mark = if cell.verdict.is_some() { MARK * size } else { 0.0 };
                whole = whole.max(wide(&cell.text) + mark);
            }
        }
        whole = whole.max(before + after) + 0.01;
        let most = match column.width {
            Width::Fit(most) => most,
            Width::Share(_) => f64::INFINITY,
        };
        Natural { whole: whole.min(most), after }
    };
    table.columns.iter().enumerate().map(column).collect()
}

/// A number in front of and from its decimal point.
pub(super) fn at_point(text: &str) -> (&str, &str) {
    text.split_at(text.find('.').unwrap_or(text.len()))
}

fn needed(table: &Table, widths: &[Natural]) -> f64 {
    let columns = table.columns.iter().zip(widths).map(|(column, natural)| match column.width {
        Width::Fit(_) => natural.whole,
        Width::Share(_) => natural.whole.min(SHARE_LEAST),
    });
    columns.sum::<f64>() + gaps(table.columns.len())
}

fn gaps(columns: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a few columns")]
    let between = columns.saturating_sub(1) as f64;
    between * GAP
}

/// Gives the sharing columns what the others leave, none more than it can use, and squeezes everything if there is
/// nothing left to share.
fn share_out(table: &Table, widths: &mut [Natural], width: f64) {
    let share = |column: &super::Column| match column.width {
        Width::Fit(_) => 0.0,
        Width::Share(share) => share,
    };
    let fixed =
        table.columns.iter().zip(widths.iter()).filter(|(c, _)| share(c) == 0.0).map(|(_, n)| n.whole);
    let mut left = (width - gaps(table.columns.len()) - fixed.sum::<f64>()).max(0.0);
    let mut shares: f64 = table.columns.iter().map(share).sum();
    // Those that need least of what is due to them go first, so that the others get what they leave.
    let sharing = table.columns.iter().zip(widths.iter()).enumerate().filter(|(_, (c, _))| share(c) > 0.0);
    let mut ranked: Vec<(f64, usize)> = sharing.map(|(i, (c, n))| (n.whole / share(c), i)).collect();
    ranked.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    for (_, i) in ranked {
        let (Some(column), Some(natural)) = (table.columns.get(i), widths.get_mut(i)) else { continue };
        let due = left * share(column) / shares;
        natural.whole = natural.whole.min(due);
        left -= natural.whole;
        shares -= share(column);
    }
    let total: f64 = widths.iter().map(|n| n.whole).sum();
    let room = (width - gaps(table.columns.len())).max(1.0);
    if total > room + 0.1 {
        for natural in widths {
            natural.whole *= room / total;
        }
    }
}

fn places(set: &Typesetter, table: &Table, widths: &[Natural], size: f64, width: f64) -> Vec<MeasuredColumn> {
    let total: f64 = widths.iter().map(|n| n.whole).sum();
    let between = table.columns.len().saturating_sub(1);
    #[expect(clippy::cast_precision_loss, reason = "a few columns")]
    let gap = if between > 0 { ((width - total) / between as f64).clamp(0.0, 20.0) } else { 0.0 };
    let mut x = 0.0;
    let mut out = Vec::new();
    for (column, natural) in table.columns.iter().zip(widths) {
        let head = column
            .head
            .split('\n')
            .flat_map(|l| wrap(set, Face::Bold, size * 0.92, l, natural.whole + gap))
            .collect();
        let (width, align, after_point) = (natural.whole, column.align, natural.after);
        out.push(MeasuredColumn { x, width, align, after_point, head });
        x += natural.whole + gap;
    }
    out
}

fn broken(set: &Typesetter, cell: Said, column: &MeasuredColumn, size: f64) -> MeasuredCell {
    let Said { text, face, faint, verdict } = cell;
    let lines = if text.is_empty() {
        Vec::new()
    } else {
        let mark = if verdict.is_some() { MARK * size } else { 0.0 };
        wrap(set, face, size, &text, column.width - mark + 0.05)
    };
    MeasuredCell { lines, face, faint, verdict }
}
