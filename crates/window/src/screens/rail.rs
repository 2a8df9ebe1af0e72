//! The rail: the screens, and the state of each.

use super::{Cx, Screen};
use crate::draw::button::Button;
use crate::draw::marks::{self, Mark};
use crate::draw::text::{Hand, LEAST, put, row, width};
use crate::model::Wing;
use assess::advice::Remedy;
use egui::{Align, Rect, Stroke, Ui, vec2};
use record::GateState;

/// What a cell says about its screen.
struct Cell {
    screen: Screen,
    mark: Option<Mark>,
    words: String,
}

fn cells(wing: &Wing, cx: &Cx<'_>) -> Vec<Cell> {
    let index = cx.index();
    let measure = match (&wing.live.live, index.left.len()) {
        // A lost port is shown on every screen.
        (bench::Live::Lost { .. }, _) => "no signal".to_owned(),
        (bench::Live::Wrong { .. }, _) => "wrong one".to_owned(),
        _ if wing.assessment.stage.is_none() => "no stage".to_owned(),
        (_, 0) => "done".to_owned(),
        (_, left) => format!("{left} left"),
    };
    let (level, profile) = (index.levels.short(), index.profile.short());
    let moves = match wing.advice.as_ref() {
        None => "\u{2026}".to_owned(),
        Some(advice) if advice.steps.is_empty() => {
            let feet = advice.findings.iter().any(|f| matches!(f.remedy, Remedy::Feet { .. }));
            if feet { "posts".to_owned() } else { "none".to_owned() }
        }
        Some(advice) => format!("{} to do", advice.steps.len()),
    };
    let gate = match wing.assessment.gate.state {
        GateState::Clear => "CLEAR".to_owned(),
        GateState::Hold if cx.s.screen == Screen::Gate => format!("{} open", index.board.open()),
        GateState::Hold => "HOLD".to_owned(),
    };
    // After the decision, what is open belongs to the stages after it.
    let after = index
        .after
        .as_ref()
        .filter(|b| b.open() > 0)
        .and_then(|b| Some((b.list.first()?.of.state.into(), format!("{} after", b.open()))));
    let who = if cx.model.who.name.is_empty() { "nobody" } else { cx.model.who.name.as_str() };
    let cell = |screen, mark, words: String| Cell { screen, mark, words };
    vec![
        cell(Screen::Measure, None, measure),
        cell(Screen::Level, level.mark, level.words),
        cell(Screen::Moves, None, moves),
        cell(Screen::Profile, profile.mark, profile.words),
        cell(Screen::Gate, after.as_ref().map(|a| a.0), after.as_ref().map_or(gate, |a| a.1.clone())),
        cell(Screen::More, None, who.to_owned()),
    ]
}

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let first = cx.g.rail(0);
    let well = first.with_max_y(cx.g.screen.bottom());
    ui.painter().rect_filled(well, 0.0, cx.p.well);
    let under_more = matches!(cx.s.screen, Screen::Shape | Screen::History | Screen::Watch);
    for (i, cell) in cells(wing, cx).into_iter().enumerate() {
        let rect = cx.g.rail(i);
        let here = cx.s.screen == cell.screen || (under_more && cell.screen == Screen::More);
        if show_cell(ui, cx, rect, &cell, here) {
            cx.s.go(cell.screen);
        }
    }
}

fn show_cell(ui: &Ui, cx: &Cx<'_>, rect: Rect, cell: &Cell, here: bool) -> bool {
    let p = cx.p;
    let painter = ui.painter();
    if here {
        painter.rect_filled(rect, 0.0, p.ground);
        painter.rect_filled(rect.with_max_x(rect.left() + 6.0), 0.0, p.control);
    }
    let inner = rect.shrink2(vec2(3.0, 2.0));
    painter.hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(1.0, p.rule));
    let name = cell.screen.word();
    let middle = rect.top() + cx.g.pick(30.0, 38.0);
    let line = row(inner.left() + 5.0, inner.right(), middle, 12.0);
    put(painter, line, Align::Center, cx.heavy(18.0, 24.0).least(16.0), name);
    let middle = rect.top() + cx.g.pick(55.0, 70.0);
    let ink = if cell.mark.is_some() { p.ink } else { p.pale };
    let hand = Hand::medium(cx.g.pick(16.0, 18.0), ink).least(15.0);
    match cell.mark {
        Some(mark) => {
            // Beside the mark, and clear of the bar of the cell one is in: where not all has room, the count is enough.
            let least = Hand { size: LEAST, ..hand };
            let room = inner.width() - 23.0;
            let whole = width(painter, &least, &cell.words) <= room;
            let first = cell.words.split(" of ").next().unwrap_or_default();
            let words = if whole { cell.words.as_str() } else { first };
            let wide = width(painter, &hand, words).min(room);
            let left = (inner.center().x - (wide + 20.0) / 2.0).max(inner.left() + 4.0);
            marks::draw(painter, &p, egui::pos2(left + 7.0, middle), 14.0, mark);
            put(painter, row(left + 18.0, inner.right() + 2.0, middle, 12.0), Align::Min, hand, words);
        }
        None => {
            let line = row(inner.left() + 3.0, inner.right(), middle, 12.0);
            put(painter, line, Align::Center, hand, &cell.words);
        }
    }
    if let Some((_, key)) = Screen::KEYED.iter().find(|(s, _)| cx.g.roomy() && *s == cell.screen) {
        let at = row(inner.left(), inner.right() - 3.0, rect.bottom() - 12.0, 10.0);
        put(painter, at, Align::Max, Hand::medium(15.0, p.pale), key.name());
    }
    let state = cell.mark.map_or_else(|| cell.words.clone(), |m| format!("{} {}", cell.words, m.word()));
    let named = format!("{name}: {state}");
    Button::new(rect, name, 20.0).chosen_if(here).named(&named).target(ui).clicked()
}
