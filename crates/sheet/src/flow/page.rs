//! Pages: where pieces are cut, and how spare height is distributed.

use super::Canvas;
use super::area::Area;
use super::measure::{MM, PITCH};
use super::piece::{Break, Piece, Stretch};
use crate::draw::{Drawing, Shape, many};
use crate::text::Typesetter;
use crate::{Paper, Size};
use std::collections::BTreeMap;

/// The sheet's margins and text area, in points.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Grid {
    pub page: Size,
    pub left: f64,
    pub width: f64,
    pub top: f64,
    /// The rule above the foot.
    pub foot: f64,
    rows: [f64; 3],
}

/// The running head of the pages after the first.
const HEAD: f64 = 33.0;
/// Space above a heading that is not needed at the top of a page.
const TOP_GAP: f64 = 7.0;
/// No strip may be emptier than this.
const STRIP: f64 = 16.0 * MM;

impl Grid {
    pub(crate) fn of(paper: Paper) -> Self {
        let page = paper.size_pt();
        let text_height = match paper {
            Paper::A4 => 264.2,
            Paper::Letter => 246.6,
        };
        let rows = match paper {
            Paper::A4 => [PITCH, 4.3 * MM, 5.1 * MM],
            Paper::Letter => [4.45 * MM, 4.3 * MM, 4.7 * MM],
        };
        let (left, top) = (20.0 * MM, 12.0 * MM);
        Self { page, left, width: page.width - 32.0 * MM, top, foot: top + text_height * MM, rows }
    }

    fn first(&self, page: usize) -> f64 {
        if page == 0 { self.top } else { self.top + HEAD }
    }

    /// Height available for pieces on a page.
    pub(crate) fn room(&self, page: usize) -> f64 {
        self.foot - self.first(page) - 4.0
    }
}

/// A piece on a page, or what is repeated above it.
#[derive(Clone, Copy, Debug)]
struct Placed {
    piece: usize,
    again: bool,
    height: f64,
}

struct Cut {
    pages: Vec<Vec<Placed>>,
}

pub(crate) struct Laid<'a> {
    pieces: Vec<Piece<'a>>,
    cut: Cut,
    grid: Grid,
}

/// Cuts pieces into pages: as few as possible, with no empty strip except on the last page and no page under half
/// full, if possible.
pub(crate) fn lay_out(pieces: Vec<Piece<'_>>, grid: Grid) -> Laid<'_> {
    let tries = [1.0, 0.8, 1.3, 1.7].into_iter().flat_map(|plots| grid.rows.map(|pitch| (pitch, plots)));
    let mut best: Option<(f64, Cut)> = None;
    for (pitch, plots) in tries {
        let mut cut = cut(&pieces, &grid, pitch, plots, None);
        let last = cut.pages.last().map_or(0.0, |p| filled(p));
        let half = grid.room(1) / 2.0;
        if cut.pages.len() > 1 && last < half {
            // What the last page lacks is taken from the page before.
            let before = cut.pages.len() - 2;
            let total = last + cut.pages.get(before).map_or(0.0, |p| filled(p));
            let again =
                self::cut(&pieces, &grid, pitch, plots, Some((before, (total - half * 1.06).max(half))));
            if again.pages.len() == cut.pages.len() {
                cut = again;
            }
        }
        let strips = stretch(&pieces, &grid, &mut cut);
        let last = cut.pages.last().map_or(0.0, |p| filled(p));
        let cost = many(cut.pages.len()) * 10_000.0 + strips + (half - last).max(0.0) * 4.0;
        if best.as_ref().is_none_or(|(least, _)| cost + 0.5 < *least) {
            best = Some((cost, cut));
        }
    }
    let cut = best.map_or_else(|| Cut { pages: Vec::new() }, |(_, cut)| cut);
    Laid { pieces, cut, grid }
}

fn filled(page: &[Placed]) -> f64 {
    page.iter().map(|p| p.height).sum()
}

fn cut(pieces: &[Piece<'_>], grid: &Grid, pitch: f64, plots: f64, short: Option<(usize, f64)>) -> Cut {
    let height = |piece: &Piece<'_>| {
        let natural = piece.height(pitch);
        match piece.stretch {
            Stretch::Plot(most) => (natural * plots).min(most.max(natural)),
            Stretch::No | Stretch::Boxes(_) | Stretch::Gap => natural,
        }
    };
    let mut pages: Vec<Vec<Placed>> = vec![Vec::new()];
    let mut i = 0;
    while i < pieces.len() {
        let kept = pieces[i..].iter().take_while(|p| p.keep).count();
        let to = (i + kept + 1).min(pieces.len());
        let unit: f64 = pieces[i..to].iter().map(&height).sum();
        let index = pages.len() - 1;
        let room = match short {
            Some((page, most)) if page == index => most.min(grid.room(index)),
            _ => grid.room(index),
        };
        let page = &pages[index];
        let rest = room - filled(page);
        let capacity: f64 = page.iter().map(|p| pieces[p.piece].spare(p.height)).sum();
        let begins = match pieces[i].breaks {
            Some(Break::Always(_)) => true,
            Some(Break::Full(_)) => rest - capacity <= STRIP,
            None => false,
        };
        if !page.is_empty() && (begins || unit > rest) {
            pages.push(Vec::new());
            continue;
        }
        let page = &mut pages[index];
        let top = page.is_empty() && pieces[i].stretch == Stretch::Gap;
        if let (true, Some(again)) = (page.is_empty(), &pieces[i].again) {
            page.push(Placed { piece: i, again: true, height: height(again) });
        }
        page.extend((i..to).map(|piece| Placed { piece, again: false, height: height(&pieces[piece]) }));
        if let (true, Some(first)) = (top, page.first_mut()) {
            // A heading at the top of a page needs no space above it.
            first.height = (first.height - TOP_GAP).max(14.0);
        }
        i = to;
    }
    Cut { pages }
}

/// Distributes the spare height of every page: first to plots, then to boxes, then to the space above headings.
/// Returns the strips left over on pages followed by another.
fn stretch(pieces: &[Piece<'_>], grid: &Grid, cut: &mut Cut) -> f64 {
    let pages = cut.pages.len();
    let mut strips = 0.0;
    for (index, page) in cut.pages.iter_mut().enumerate() {
        let mut spare = grid.room(index) - filled(page);
        let is = |p: &Placed, plot: bool| match pieces[p.piece].stretch {
            Stretch::Plot(_) => plot,
            Stretch::Boxes(_) => !plot,
            Stretch::No | Stretch::Gap => false,
        };
        for plot in [true, false] {
            // Equal shares; what one cannot use goes to the others.
            for _ in 0..4 {
                let takers =
                    page.iter().filter(|p| is(p, plot) && pieces[p.piece].spare(p.height) > 0.1).count();
                let share = spare / many(takers.max(1));
                for placed in page.iter_mut().filter(|p| is(p, plot)) {
                    let more = pieces[placed.piece].spare(placed.height).min(share).max(0.0);
                    placed.height += more;
                    spare -= more;
                }
            }
        }
        let gaps = page.iter().skip(1).filter(|p| pieces[p.piece].stretch == Stretch::Gap).count();
        if index + 1 < pages && spare > STRIP && gaps > 0 {
            let share = ((spare - STRIP * 0.5) / many(gaps)).min(STRIP * 0.85);
            for placed in page.iter_mut().skip(1).filter(|p| pieces[p.piece].stretch == Stretch::Gap) {
                placed.height += share;
                spare -= share;
            }
        }
        if index + 1 < pages {
            strips += (spare - STRIP).max(0.0);
        }
    }
    strips
}

impl Laid<'_> {
    pub(crate) fn pages(&self) -> usize {
        self.cut.pages.len()
    }

    pub(crate) fn chapter(&self, page: usize) -> &'static str {
        let first = self.cut.pages.get(page).and_then(|p| p.first()).map_or(0, |p| p.piece);
        let breaks = self.pieces.iter().take(first + 1).rev().find_map(|p| p.breaks);
        breaks.map_or("", Break::chapter)
    }

    /// Draws every page, with what `furniture` adds to each.
    pub(crate) fn draw(&self, set: &Typesetter, furniture: impl Fn(usize, Area) -> Vec<Shape>) -> Drawing {
        let mut chapters = BTreeMap::new();
        for (index, page) in self.cut.pages.iter().enumerate() {
            for placed in page {
                if let Some(breaks) = self.pieces[placed.piece].breaks {
                    chapters.entry(breaks.chapter()).or_insert(index + 1);
                }
            }
        }
        let mut canvas = Canvas::new(set, self.grid.page, chapters);
        for (index, page) in self.cut.pages.iter().enumerate() {
            canvas.new_page();
            let mut y = self.grid.first(index);
            for placed in page {
                let piece = &self.pieces[placed.piece];
                let piece = piece.again.as_deref().filter(|_| placed.again).unwrap_or(piece);
                canvas.within(&piece.within);
                let (x, width, height) = (self.grid.left, self.grid.width, placed.height);
                (piece.draw)(&mut canvas, Area { x, y, width, height });
                y += height;
            }
        }
        canvas.finish(furniture)
    }
}
