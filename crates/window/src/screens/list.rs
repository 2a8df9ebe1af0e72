//! A list of rows, a page at a time: the whole row can be tapped; Up, Down and a swipe turn the page.

use super::Cx;
use crate::draw::button::Button;
use crate::draw::marks::{self, Mark};
use crate::draw::shape::{frame, rule};
use crate::draw::text::{Hand, put, row, width};
use crate::grid::{fit, table};
use crate::state::Nav;
use egui::{Align, Id, Painter, Rect, Stroke, Ui, pos2};

#[derive(Clone, Debug, Default)]
pub struct Row {
    pub mark: Option<Mark>,
    pub title: String,
    /// A line below.
    pub note: String,
    pub right: String,
    pub right_note: String,
    /// Its name for screen readers; its title if empty.
    pub name: String,
}

impl Row {
    /// A row of two lines.
    pub fn new(title: impl Into<String>, note: impl Into<String>) -> Self {
        Self { title: title.into(), note: note.into(), ..Self::default() }
    }

    /// With this text at its right end.
    pub fn right(self, right: impl Into<String>, note: impl Into<String>) -> Self {
        Self { right: right.into(), right_note: note.into(), ..self }
    }

    pub fn mark(self, mark: impl Into<Mark>) -> Self {
        Self { mark: Some(mark.into()), ..self }
    }
}

/// Rows on a page of that height.
pub fn per_page(cx: &Cx<'_>, area: Rect) -> usize {
    fit(area.height(), cx.g.pick(58.0, 56.0), 0.0)
}

/// Draws the rows from `from` on; gives the row that was tapped.
pub fn show(
    ui: &Ui,
    cx: &Cx<'_>,
    area: Rect,
    rows: &[Row],
    from: usize,
    chosen: Option<usize>,
) -> Option<usize> {
    frame(ui.painter(), area, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
    let per = per_page(cx, area);
    let cell = table(area, 1, per, 0.0);
    let mut tapped = None;
    for (n, (i, r)) in rows.iter().enumerate().skip(from).take(per).enumerate() {
        let rect = cell(n);
        if n > 0 {
            rule(ui.painter(), rect.left() + 4.0..=rect.right() - 4.0, rect.top(), cx.p.rule);
        }
        if show_row(ui, cx, rect.shrink(1.0), r, chosen == Some(i), i) {
            tapped = Some(i);
        }
    }
    tapped
}

fn show_row(ui: &Ui, cx: &Cx<'_>, rect: Rect, r: &Row, chosen: bool, i: usize) -> bool {
    let name = if r.name.is_empty() { format!("{}: {}", i + 1, r.title) } else { r.name.clone() };
    let button = Button::new(rect, &r.title, 20.0).named(&name).nth(i).chosen_if(chosen);
    if chosen {
        button.face(ui);
    }
    let painter = ui.painter();
    let mut left = rect.left() + 14.0;
    if let Some(mark) = r.mark {
        let place = pos2(rect.left() + 24.0, rect.center().y + 2.0);
        marks::draw(painter, &cx.p, place, cx.g.pick(22.0, 24.0), mark);
        left = rect.left() + 50.0;
    }
    let right = rect.right() - 16.0;
    let first = cx.heavy(22.0, 23.0).least(15.0);
    let second = Hand::medium(cx.g.pick(18.0, 19.0), cx.p.pale).least(15.0);
    let (above, below) = if r.note.is_empty() && r.right_note.is_empty() {
        (rect.center().y, rect.center().y)
    } else {
        (rect.top() + rect.height() * 0.32, rect.top() + rect.height() * 0.75)
    };
    let most = rect.width() * 0.5;
    ends(painter, row(left, right, above, 14.0), most, first, [&r.title, &r.right]);
    ends(painter, row(left, right, below, 14.0), most, second, [&r.note, &r.right_note]);
    button.target(ui).clicked()
}

/// A text at each end of a line; the right one takes at most so much of it.
pub fn ends(painter: &Painter, line: Rect, most: f32, hand: Hand, [left, right]: [&str; 2]) {
    let aside = if right.is_empty() { 0.0 } else { width(painter, &hand, right).min(most) + 14.0 };
    put(painter, line.with_max_x(line.right() - aside), Align::Min, hand, left);
    put(painter, line.with_min_x(line.right() - aside), Align::Max, hand, right);
}

/// The buttons of a pager one above the other.
pub fn stacked(rect: Rect) -> [Rect; 2] {
    let cell = table(rect, 1, 2, 8.0);
    [cell(0), cell(1)]
}

/// The page buttons, and the keys and swipes that do the same; gives the first row of the page then shown.
pub fn pager(ui: &Ui, cx: &Cx<'_>, buttons: [Rect; 2], area: Rect, count: usize, from: usize) -> usize {
    let per = per_page(cx, area);
    turn(ui, cx, buttons, area, count, per, from)
}

/// The same with that many rows on a page.
pub fn turn(
    ui: &Ui,
    cx: &Cx<'_>,
    buttons: [Rect; 2],
    area: Rect,
    count: usize,
    per: usize,
    from: usize,
) -> usize {
    let last = count.saturating_sub(1) / per.max(1) * per.max(1);
    let from = from.min(last);
    let [up, down] = buttons;
    let size = cx.g.pick(22.0, 26.0);
    let (first, end) = ((from == 0).then_some("first"), (from + per >= count).then_some("last"));
    let back = Button::new(up, "Up", size).unless(first).show(ui);
    let on = Button::new(down, "Down", size).unless(end).show(ui);
    let moved = swiped(ui, area);
    if on || cx.s.nav == Some(Nav::PageDown) || moved < -40.0 {
        return (from + per).min(last);
    }
    if back || cx.s.nav == Some(Nav::PageUp) || moved > 40.0 {
        return from.saturating_sub(per);
    }
    from
}

/// How far down a swipe within the area went that ended now.
fn swiped(ui: &Ui, area: Rect) -> f32 {
    let from = Id::unique("where a finger came down");
    let (pressed, released, at) =
        ui.input(|i| (i.pointer.any_pressed(), i.pointer.any_released(), i.pointer.interact_pos()));
    let Some(at) = at else { return 0.0 };
    if pressed {
        ui.data_mut(|d| d.insert_temp(from, at));
    }
    if !released {
        return 0.0;
    }
    let began = ui.data_mut(|d| d.remove_temp::<egui::Pos2>(from));
    began.filter(|p| area.contains(*p)).map_or(0.0, |p| at.y - p.y)
}
