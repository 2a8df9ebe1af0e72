//! May the skins go on? HOLD or CLEAR, how many obligations are met, how many of each kind, the worst first, and a
//! mark for every obligation on the board. A row opens its evidence. The stages after the closing and the wings from
//! their jigs are parts of their own.

mod board;
mod evidence;
mod foot;
mod head;

pub use head::verdict;

use super::{Cx, lines, list};
use crate::draw::shape::frame;
use crate::model::Wing;
use crate::reads::board::Item;
use crate::state::Nav;
use crate::words;
use assess::view::Verdict;
use egui::{Rect, Stroke, Ui};
use quantity::shown;

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let index = cx.index();
    let part = index.part(cx.s.gate.part);
    let board = index.board(part);
    let shown: Vec<Item> = match cx.s.gate.only {
        Some(state) => board.with(state).cloned().collect(),
        None if board.open() > 0 => board.list.iter().take(board.open()).cloned().collect(),
        None => board.list.clone(),
    };
    follow(cx, shown.len());
    if cx.s.gate.evidence
        && let Some(item) = shown.get(cx.s.gate.row)
    {
        evidence::show(ui, wing, cx, &item.clone(), shown.len());
        return;
    }
    head::show(ui, wing, cx, part);
    if !cx.g.roomy() && cx.s.gate.board {
        let middle = cx.g.middle(cx.g.body());
        board::show(ui, cx, middle.with_min_y(middle.top() + 4.0), part);
        board::legend(ui, cx, part);
        return;
    }
    let middle = head::below_tiles(ui, cx, part);
    let area = if cx.g.roomy() {
        let [a, b] = halves(cx, middle);
        board::show(ui, cx, b, part);
        a
    } else {
        middle
    };
    let tapped = rows(ui, wing, cx, area, &shown);
    foot::show(ui, wing, cx, area, shown.len(), part);
    if let Some(row) = tapped {
        cx.s.gate.row = row;
        cx.s.gate.line = 0;
        cx.s.gate.evidence = true;
    }
}

fn halves(cx: &Cx<'_>, middle: Rect) -> [Rect; 2] {
    let left = middle.width() * 0.536;
    [middle.with_max_x(middle.left() + left), middle.with_min_x(middle.left() + left + cx.g.edge())]
}

fn follow(cx: &mut Cx<'_>, count: usize) {
    // In the evidence the arrows go from one obligation to the next.
    if cx.s.gate.evidence && matches!(cx.s.nav, Some(Nav::Up | Nav::Down | Nav::Left | Nav::Right)) {
        cx.s.gate.line = 0;
    }
    cx.s.gate.row = cx.s.row_from(cx.s.gate.row, count);
}

fn rows(ui: &Ui, wing: &Wing, cx: &Cx<'_>, area: Rect, shown: &[Item]) -> Option<usize> {
    let rows: Vec<list::Row> = shown.iter().map(|i| item_row(wing, i)).collect();
    let per = list::per_page(cx, area);
    let from = cx.s.gate.row / per * per;
    if rows.is_empty() {
        frame(ui.painter(), area, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
        lines(ui, area.shrink(20.0), cx.heavy(24.0, 28.0), "empty", "None of these.", 1);
    }
    list::show(ui, cx, area, &rows, from, Some(cx.s.gate.row))
}

fn item_row(wing: &Wing, item: &Item) -> list::Row {
    let on = crate::reads::evidence::value(wing, item);
    let (value, limit) = match (on, &item.of.found, &item.of.limit) {
        (Some(v), ..) => (
            words::judged(wing.scale(v.kind), v.value, v.u, [v.lower, v.upper]),
            words::limit(wing.scale(v.kind), v.lower, v.upper),
        ),
        (None, Some(found), limit) => (
            found.replacen(" ±", " ± ", 1),
            limit.as_ref().map_or_else(String::new, |l| format!("limit {l}")),
        ),
        (None, None, _) => Default::default(),
    };
    // Value and limit have their own place at the right; the line below the title says the rest.
    let proven = match item.of.state {
        Verdict::Outside => "proven outside",
        Verdict::Within => "proven within",
        state => state.obligation_word(),
    };
    let note = match &item.settles {
        // What the sentence asks for comes last in it; the whole sentence is in the evidence.
        Some(settles) => shown::capital(settles.rsplit("; ").next().unwrap_or(settles)),
        None if value.is_empty() => item.of.words.clone(),
        // A station's name is already in the title.
        None if item.of.what == item.of.about => proven.to_owned(),
        None => format!("{proven}: {}", item.of.what),
    };
    let title = item.title();
    let name = if value.is_empty() {
        format!("Evidence of {title}")
    } else {
        format!("Evidence of {title}: {value}")
    };
    list::Row { name, ..list::Row::new(title, note).right(value, limit).mark(item.of.state) }
}
