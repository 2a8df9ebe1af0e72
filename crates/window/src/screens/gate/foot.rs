//! The row of buttons under the list of the gate, and the state of the log itself.

use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::text::{Hand, put, say};
use crate::model::Wing;
use crate::reads::board::Part;
use crate::screens::{Cx, list, notice};
use crate::words;
use assess::Chain;
use egui::{Align, Rect, Ui, pos2, vec2};
use quantity::shown;

/// Buttons for the pages of the list, the evidence of a row, the board, the other parts, and the state of the log
/// itself.
pub fn show(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, area: Rect, count: usize, part: Part) {
    let bar = cx.g.buttons(cx.g.body());
    let wide = cx.g.pick(72.0, 88.0);
    let up = bar.with_max_x(bar.left() + wide);
    let down = up.translate(vec2(wide + 8.0, 0.0));
    let per = list::per_page(cx, area);
    let from = cx.s.gate.row / per * per;
    let to = list::pager(ui, cx, [up, down], area, count, from);
    if to != from {
        cx.s.gate.row = to;
    }
    if !cx.g.roomy() && crate::keys::main_asked(ui.ctx()) && count > 0 {
        (cx.s.gate.evidence, cx.s.gate.line) = (true, 0);
    }
    if !cx.g.roomy() && notice(ui, cx, bar.with_min_x(down.right() + 14.0)) {
        return;
    }
    let next = cx.index().part_after(part);
    let parts = next != part;
    let last = (from + per).min(count);
    let range = if count == 0 { "none".to_owned() } else { format!("{} to {last} of {}", from + 1, count) };
    let wide = if parts { cx.g.pick(104.0, 150.0) } else { cx.g.pick(124.0, 190.0) };
    let (mid_left, mid_right) = (down.right() + 14.0, down.right() + wide);
    let [a, b] = crate::screens::halves(
        Rect::from_min_max(pos2(mid_left, bar.top()), pos2(mid_right, bar.bottom())),
        0.3,
        0.74,
    );
    say(ui, a, Align::Min, cx.heavy(20.0, 22.0).least(15.0), "range", &range);
    put(ui.painter(), b, Align::Min, cx.note(18.0, 21.0).least(15.0), "worst first");
    let right = mid_right + if parts { cx.g.pick(96.0, 150.0) } else { cx.g.pick(118.0, 190.0) };
    let button = bar.with_min_x(mid_right + 8.0).with_max_x(right);
    if cx.g.roomy() {
        let why = (count == 0).then_some("nothing is chosen");
        if Button::new(button, "Evidence", 28.0).second("of the row, Enter").unless(why).show(ui)
            || (why.is_none() && crate::keys::main_asked(ui.ctx()))
        {
            (cx.s.gate.evidence, cx.s.gate.line) = (true, 0);
        }
    } else if Button::new(button, "Board", 24.0).show(ui) {
        cx.s.gate.board = true;
    }
    let mut left = if cx.g.roomy() { area.right() + cx.g.edge() } else { button.right() + 12.0 };
    if parts {
        let other =
            bar.with_min_x(button.right() + 8.0).with_max_x(button.right() + 8.0 + cx.g.pick(152.0, 190.0));
        other_part(ui, cx, other, next);
        left = left.max(other.right() + 12.0);
    }
    record(ui, wing, cx, Rect::from_min_max(pos2(left, bar.top()), bar.max));
}

/// Another part of the gate: the stages after the closing, the wings from their jigs, the closing itself.
fn other_part(ui: &Ui, cx: &mut Cx<'_>, rect: Rect, next: Part) {
    let board = cx.index().board(next);
    let second = format!("{} of {} met", board.met(), board.list.len());
    let named = format!("Show {}", next.word());
    if Button::new(rect, next.short(), cx.g.pick(22.0, 28.0)).second(&second).named(&named).show(ui) {
        cx.s.gate.turn_to(next);
    }
}

/// The state of the log itself, or what went wrong.
fn record(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, at: Rect) {
    if notice(ui, cx, at) {
        return;
    }
    let narrow = at.width() < 240.0;
    let entries = shown::counted(wing.last_entry(), "entry", "entries");
    let text = match &wing.chain {
        Chain::Whole if narrow => format!("Log whole: {}", wing.last_entry()),
        Chain::Whole => format!("Log whole: {entries}, every link checked."),
        Chain::NotWalked => format!("{entries}; links not checked yet."),
        Chain::Broken(how) => format!("{}: look, do not sign.", words::broken(how)),
    };
    let button = wing.chain == Chain::NotWalked;
    let at = if button {
        let wide = cx.g.pick(84.0, 120.0);
        if Button::new(at.with_min_x(at.right() - wide), "Check it", cx.g.pick(20.0, 26.0)).show(ui) {
            cx.ask(Action::WalkChain);
        }
        at.with_max_x(at.right() - wide - 10.0)
    } else {
        at
    };
    let said = cx.model.notice.as_ref().filter(|n| !n.wrong).map(|n| n.words.as_str());
    let said = said.unwrap_or(if narrow {
        "every link checked"
    } else {
        "The program measures; it does not approve."
    });
    let said = if narrow && button { "" } else { said };
    let [a, b] = crate::screens::halves(at, 0.28, 0.74);
    let hand = Hand::medium(cx.g.pick(18.0, 21.0), cx.p.ink).least(15.0);
    say(ui, a, Align::Min, hand, "log", &text);
    say(ui, b, Align::Min, Hand { colour: cx.p.pale, ..hand }, "said", said);
}
