//! The strip of stations, as the wing lies before you; with more than twelve, its ends turn the page.

use crate::draw::button::Button;
use crate::draw::marks;
use crate::draw::text::{Hand, put, row};
use crate::grid::{STRIP_CELLS, table};
use crate::model::Wing;
use crate::reads::index::alike;
use crate::screens::Cx;
use crate::screens::chart::Grows;
use crate::state::Nav;
use egui::{Align, Rect, Stroke, Ui, pos2};
use record::Point;
use record::plan::Side;

pub fn tip_left(wing: &Wing, cx: &Cx<'_>) -> bool {
    (wing.plan.wing.side == Side::Left) != cx.s.looks.turned
}

/// Which way the span grows in charts.
pub fn grows(wing: &Wing, cx: &Cx<'_>) -> Grows {
    if tip_left(wing, cx) { Grows::Left } else { Grows::Right }
}

/// The cells shown: the points of the row, and which ends turn a page.
struct Window {
    first: usize,
    last: usize,
}

/// Twelve cells around the current one; the ends are page buttons if there are more.
fn window(count: usize, here: usize) -> Window {
    if count <= STRIP_CELLS {
        return Window { first: 0, last: count };
    }
    let inner = STRIP_CELLS - 2;
    let page = here.min(count - 1) / inner;
    let first = (page * inner).min(count - inner);
    Window { first, last: first + inner }
}

/// Draws it, and follows the arrows.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, point: &Point) {
    let index = cx.index();
    let points: Vec<Point> = index.row(point).into_iter().cloned().collect();
    let here = points.iter().position(|p| p == point).unwrap_or(0);
    let marks: Vec<marks::Mark> = points.iter().map(|p| index.mark(wing, p)).collect();
    let left = tip_left(wing, cx);
    follow(cx, &points, here, left);
    let strip = cx.g.strip();
    if cx.g.roomy() {
        let above = |left: f32, right: f32| row(left, right, strip.top() - 17.0, 12.0);
        let (a, b) = if left { ("tip", "root") } else { ("root", "tip") };
        let note = Hand::medium(18.0, cx.p.pale);
        put(ui.painter(), above(strip.left(), strip.left() + 80.0), Align::Min, note, a);
        put(ui.painter(), above(strip.right() - 80.0, strip.right()), Align::Max, note, b);
    }
    let w = window(points.len(), here);
    let mut cells: Vec<Option<usize>> = (w.first..w.last).map(Some).collect();
    if points.len() > STRIP_CELLS {
        cells.insert(0, None);
        cells.push(None);
    }
    if left {
        cells.reverse();
    }
    let place = table(strip, cells.len().max(6), 1, 0.0);
    let mut chosen = None;
    for (n, cell) in cells.iter().enumerate() {
        let rect = place(n).shrink2(egui::vec2(1.0, 0.0));
        match cell {
            Some(i) => {
                if let (Some(p), Some(mark)) = (points.get(*i), marks.get(*i))
                    && show_cell(ui, cx, rect, p, *mark, *i == here)
                {
                    chosen = Some(*i);
                }
            }
            None => {
                let back = (n == 0) != left;
                let to = if back { w.first.saturating_sub(1) } else { w.last.min(points.len() - 1) };
                let off = if back { w.first == 0 } else { w.last == points.len() };
                let (text, name) =
                    (if n == 0 { "‹" } else { "›" }, if n == 0 { "Page left" } else { "Page right" });
                let why = off.then_some("");
                if Button::new(rect, text, 30.0).named(name).unless(why).show(ui) {
                    chosen = Some(to);
                }
            }
        }
    }
    if let Some(p) = chosen.and_then(|i| points.get(i)) {
        cx.s.choose(p.clone());
    }
}

fn show_cell(ui: &Ui, cx: &Cx<'_>, rect: Rect, point: &Point, mark: marks::Mark, here: bool) -> bool {
    let named = format!("{}: {}", point.place(), mark.word());
    let button = Button::new(rect, point.place(), 20.0).named(&named).chosen_if(here);
    if here {
        button.face(ui);
    } else {
        crate::draw::shape::frame(ui.painter(), rect, cx.p.sheet, Stroke::new(1.0, cx.p.rule));
    }
    let size = if here { cx.g.pick(24.0, 30.0) } else { cx.g.pick(20.0, 24.0) };
    let line = row(rect.left() + 3.0, rect.right() - 3.0, rect.top() + rect.height() * 0.31, 14.0);
    put(ui.painter(), line, Align::Center, Hand::heavy(size, cx.p.ink).least(15.0), point.place());
    let at = pos2(rect.center().x, rect.top() + rect.height() * 0.71);
    marks::draw(ui.painter(), &cx.p, at, cx.g.pick(18.0, 21.0), mark);
    button.target(ui).clicked()
}

/// Left and right go along the strip, up and down to another kind of point at the same place, pages by the strip's
/// width.
fn follow(cx: &mut Cx<'_>, points: &[Point], here: usize, tip_left: bool) {
    let Some(nav) = cx.s.nav else { return };
    let last = points.len().saturating_sub(1);
    let step = |by: isize| here.saturating_add_signed(by).min(last);
    let along = if tip_left { -1 } else { 1 };
    let far = STRIP_CELLS.cast_signed();
    let to = match nav {
        Nav::Right => step(along),
        Nav::Left => step(-along),
        Nav::PageDown => step(far),
        Nav::PageUp => step(-far),
        Nav::Up | Nav::Down => {
            if let Some(point) = other_kind(cx, nav == Nav::Down) {
                cx.s.choose(point);
            }
            return;
        }
    };
    if let Some(p) = points.get(to) {
        cx.s.choose(p.clone());
    }
}

/// The same place in the row of points before or after this one.
fn other_kind(cx: &Cx<'_>, down: bool) -> Option<Point> {
    let here = cx.s.measuring.point.as_ref()?;
    let index = cx.index();
    let mut rows: Vec<&Point> = Vec::new();
    for p in &index.points {
        if !rows.iter().any(|r| alike(r, p)) {
            rows.push(p);
        }
    }
    let at = rows.iter().position(|r| alike(r, here))?;
    let to = if down { at + 1 } else { at.checked_sub(1)? };
    let row = index.row(rows.get(to)?);
    row.iter().find(|p| p.place() == here.place()).or(row.first()).map(|p| (*p).clone())
}
