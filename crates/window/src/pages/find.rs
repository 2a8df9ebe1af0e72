//! Finds a point by letters of its name; without letters, the kinds of points to begin from.

use super::keyboard::{self, Pressed, Shifts};
use super::{Page, change};
use crate::draw::button::Button;
use crate::draw::marks::{self, Mark};
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row};
use crate::grid::{fit, table};
use crate::model::Wing;
use crate::screens::{Cx, Screen};
use crate::state::Nav;
use crate::words;
use egui::{Align, Rangef, Rect, Stroke, Ui, pos2};
use quantity::shown;
use record::Point;

/// Points whose name contains the text, those of exactly that place first; all points if nothing is typed, the wanted
/// ones first.
fn hits(wing: &Wing, cx: &Cx<'_>, text: &str) -> Vec<Point> {
    let index = cx.index();
    let text = text.trim().to_lowercase();
    if text.is_empty() {
        let open = index.left.iter().filter_map(|i| index.points.get(*i)).cloned();
        let rest = index.points.iter().filter(|p| !index.mark(wing, p).is_to_measure());
        return open.chain(rest.cloned()).take(2000).collect();
    }
    let mut found: Vec<Point> = index
        .points
        .iter()
        .filter(|p| {
            p.to_string().to_lowercase().contains(&text) || words::point(p).to_lowercase().contains(&text)
        })
        .take(2000)
        .cloned()
        .collect();
    found.sort_by_key(|p| {
        let place = p.place().to_lowercase();
        (place != text, !place.starts_with(&text))
    });
    found
}

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, text: &str, from: usize) {
    let Some(wing) = &cx.model.wing else { return cx.s.close() };
    let mut typed = text.to_owned();
    let mut pressed = keyboard::hardware(ui, &mut typed);
    let hits = hits(wing, cx, &typed);
    let Rangef { min: left, max: right } = cx.g.whole();
    let top = cx.g.pick(8.0, 24.0);
    let entry = cx.g.rect(left..=right, top..=top + cx.g.pick(56.0, 64.0));
    show_field(ui, cx, entry, &typed, hits.len());
    let away = cx.s.keyboard_away;
    let under = entry.bottom() + 8.0 - cx.g.screen.top();
    let keyboard_top = cx.g.pick(140.0, 300.0);
    let bottom = if away { cx.g.buttons_y().min - 8.0 } else { keyboard_top - 8.0 };
    let area = cx.g.rect(left..=right, under..=bottom);
    let chosen = cells(ui, cx, area, &hits, from);
    if let Some(Chosen::Page(from)) = chosen {
        return change(cx, Page::Find { text: typed, from });
    }
    let why = hits.is_empty().then_some("no point has that in its name");
    let below = cx.g.rect(left..=right, keyboard_top..=cx.g.screen.height() - 12.0);
    let mut shifts = Shifts { capital: true, other: false };
    pressed = pressed.or(if away {
        keyboard::away(ui, cx, why)
    } else {
        keyboard::show(ui, cx, below, &mut shifts, &mut typed, why)
    });
    let go = match (chosen, pressed) {
        (Some(Chosen::Point(p)), _) => Some(p),
        (_, Some(Pressed::Done)) => hits.first().cloned(),
        (_, Some(Pressed::Cancel)) => return cx.s.close(),
        _ => None,
    };
    match go {
        Some(point) => {
            cx.s.close();
            cx.s.turn_back(point);
            if cx.s.screen != Screen::History {
                cx.s.go(Screen::Measure);
            }
        }
        None => {
            let from = if typed == text { from } else { 0 };
            change(cx, Page::Find { text: typed, from });
        }
    }
}

enum Chosen {
    Point(Point),
    Page(usize),
}

fn show_field(ui: &Ui, cx: &Cx<'_>, entry: Rect, typed: &str, count: usize) {
    frame(ui.painter(), entry, cx.p.sheet, Stroke::new(3.0, cx.p.control));
    let inner = entry.shrink2(egui::vec2(18.0, 4.0));
    let count = shown::counted(count, "point", "points");
    let at = put(ui.painter(), inner, Align::Max, cx.note(17.0, 20.0), &count);
    let text = if typed.is_empty() { "Find a point: letters of its name" } else { typed };
    let hand = if typed.is_empty() { cx.note(24.0, 28.0) } else { cx.heavy(34.0, 40.0) };
    put(ui.painter(), inner.with_max_x(at.left() - 14.0), Align::Min, hand, text);
    name(ui, entry, "field", &format!("find: {typed}"));
}

/// The hits as cells, a page at a time.
fn cells(ui: &Ui, cx: &Cx<'_>, area: Rect, hits: &[Point], from: usize) -> Option<Chosen> {
    let gap = 8.0;
    let (columns, rows) = (if cx.g.roomy() { 5 } else { 4 }, fit(area.height(), 56.0, gap));
    let (cells, rect) = (columns * rows, table(area, columns, rows, gap));
    let more = hits.len() > cells;
    let per = if more { cells - 1 } else { cells };
    let from = if from < hits.len() { from } else { 0 };
    for (n, point) in hits.iter().skip(from).take(per).enumerate() {
        if cell(ui, cx, rect(n), point) {
            return Some(Chosen::Point(point.clone()));
        }
    }
    let next = if from + per < hits.len() { from + per } else { 0 };
    if more && Button::new(rect(cells - 1), "More", cx.g.pick(22.0, 26.0)).named("More points").show(ui) {
        return Some(Chosen::Page(next));
    }
    match cx.s.nav {
        Some(Nav::PageDown) if more => Some(Chosen::Page(next)),
        Some(Nav::PageUp) if more => Some(Chosen::Page(from.saturating_sub(per))),
        _ => None,
    }
}

fn cell(ui: &Ui, cx: &Cx<'_>, rect: Rect, point: &Point) -> bool {
    let mark = cx.model.wing.as_ref().map_or(Mark::Unasked, |w| cx.index().mark(w, point));
    let named = format!("Go to {point}");
    let button = Button::new(rect, point.place(), 20.0).named(&named);
    button.face(ui);
    marks::draw(ui.painter(), &cx.p, pos2(rect.left() + 20.0, rect.center().y), 17.0, mark);
    let (a, b) = (rect.top() + rect.height() * 0.33, rect.top() + rect.height() * 0.74);
    let (left, right) = (rect.left() + 40.0, rect.right() - 8.0);
    // The spar stands beside the place, so the whole line below is free for what is measured.
    let place = point.spar().map_or_else(|| point.place().to_owned(), |s| format!("{} {s}", point.place()));
    put(ui.painter(), row(left, right, a, 14.0), Align::Min, Hand::heavy(21.0, cx.p.ink).least(15.0), &place);
    let what = words::kind_words(point.kind());
    put(ui.painter(), row(left, right, b, 14.0), Align::Min, Hand::medium(16.0, cx.p.pale).least(15.0), what);
    button.target(ui).clicked()
}
