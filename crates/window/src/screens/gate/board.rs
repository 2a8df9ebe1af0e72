//! One mark for each obligation, by kind.

use crate::draw::button::Button;
use crate::draw::marks;
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row};
use crate::reads::board::{BoardRow, Part};
use crate::screens::Cx;
use assess::view::Verdict;
use egui::{Align, Rect, Stroke, Ui, pos2};

/// Distance of marks, their size, and the height of a line, from the widest to the narrowest that can be told apart.
const FITS: [(f32, f32, f32); 9] = [
    (40.0, 17.0, 20.0),
    (34.0, 17.0, 20.0),
    (30.0, 17.0, 20.0),
    (27.0, 17.0, 19.0),
    (24.0, 17.0, 19.0),
    (22.0, 17.0, 19.0),
    (19.0, 14.0, 17.0),
    (15.0, 11.0, 14.0),
    (11.0, 9.0, 11.0),
];

/// Draws the marks; a row that is too long goes on below.
pub fn show(ui: &Ui, cx: &Cx<'_>, area: Rect, part: Part) {
    let painter = ui.painter();
    frame(painter, area, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
    let mut top = area.top() + 6.0;
    if cx.g.roomy() {
        let line = row(area.left() + 16.0, area.right() - 10.0, top + 18.0, 20.0);
        put(painter, line, Align::Min, Hand::heavy(24.0, cx.p.ink), "Every obligation, one mark each");
        top += 38.0;
    }
    let rows = &cx.index().board(part).rows;
    let column = cx.g.pick(180.0, 150.0);
    let free = area.width() - column - 24.0;
    let per = |step: f32| crate::grid::fit(free, step, 0.0);
    let count = |step: f32| -> usize { rows.iter().map(|r| r.states.len().div_ceil(per(step)).max(1)).sum() };
    let room = area.bottom() - top - 6.0;
    let most = cx.g.pick(40.0, 27.0);
    let fits = |(step, _, line): &&(f32, f32, f32)| *step <= most && count(*step) as f32 * line <= room;
    // A row is broken only if its marks would otherwise be too close together.
    let whole = |f: &&(f32, f32, f32)| fits(f) && f.0 >= 22.0 && count(f.0) == rows.len();
    let (step, size, least) =
        FITS.iter().find(whole).or_else(|| FITS.iter().find(fits)).copied().unwrap_or(FITS[FITS.len() - 1]);
    let pitch = (room / count(step).max(1) as f32).clamp(least, 34.0);
    let mut line = 0;
    for r in rows {
        let middle = |line: usize| top + pitch * (line as f32 + 0.5);
        // Thousands of marks do not fit; the list says how many more there are.
        if middle(line) > area.bottom() - 4.0 {
            break;
        }
        let label = row(area.left() + 14.0, area.left() + column, middle(line), pitch - 2.0);
        let hand = Hand::medium(cx.g.pick(18.0, 19.0).min(pitch * 0.9), cx.p.ink).least(15.0);
        put(painter, label, Align::Min, hand, r.name);
        for (i, state) in r.states.iter().enumerate() {
            let (n, k) = (i / per(step), i % per(step));
            let at = pos2(area.left() + column + 10.0 + step * (k as f32 + 0.5), middle(line + n));
            if at.y < area.bottom() - 4.0 {
                marks::draw(painter, &cx.p, at, size.min(pitch * 0.85), (*state).into());
            }
        }
        name(ui, label.with_max_x(area.right()), &format!("board {}", r.name), &said(r));
        line += r.states.len().div_ceil(per(step)).max(1);
    }
}

fn said(r: &BoardRow) -> String {
    let marks: Vec<&str> = r.states.iter().map(|s| s.word()).collect();
    format!("{}: {}", r.name, marks.join(", "))
}

/// The totals of the board's marks, and the way back to the list.
pub fn legend(ui: &Ui, cx: &mut Cx<'_>, part: Part) {
    let bar = cx.g.buttons(cx.g.body());
    let back = bar.with_max_x(bar.left() + 112.0);
    let rest = bar.with_min_x(back.right() + 20.0);
    let (mut x, mut y) = (rest.left(), rest.top() + rest.height() * 0.28);
    for state in Verdict::WORST_FIRST {
        let n = cx.index().board(part).with(state).count();
        let text = format!("{n} {}", state.obligation_word());
        let hand = Hand::medium(18.0, cx.p.ink);
        let wide = crate::draw::text::width(ui.painter(), &hand, &text) + 26.0;
        if x + wide > rest.right() {
            x = rest.left();
            y += rest.height() * 0.46;
        }
        marks::draw(ui.painter(), &cx.p, pos2(x + 9.0, y), 17.0, state.into());
        put(ui.painter(), row(x + 24.0, x + wide + 4.0, y, 14.0), Align::Min, hand, &text);
        x += wide + 18.0;
    }
    if Button::new(back, "List", 26.0).show(ui) {
        cx.s.gate.board = false;
    }
}
