//! The head of the gate: the verdict, large enough to be read across a room; the count; Sheet and Sign; and how many
//! there are of each kind.

use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::marks;
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row, say};
use crate::model::Wing;
use crate::pages::Page;
use crate::reads::board::Part;
use crate::screens::Cx;
use assess::view::Verdict;
use egui::{Align, Rect, Stroke, Ui, pos2, vec2};
use record::GateState;
use record::calendar;

/// The verdict, large enough to be read across a room, the count, Sheet and Sign.
pub fn show(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, part: Part) {
    let board = cx.index().board(part);
    let (open, all) = (board.open(), board.list.len());
    let bar = cx.g.title(cx.g.body());
    let block = bar.with_max_x(bar.left() + cx.g.pick(144.0, 216.0));
    verdict(ui, cx, block, wing.assessment.gate.state);
    let wide = cx.g.pick(98.0, 180.0);
    let sign = bar.with_min_x(bar.right() - wide);
    let sheet = sign.translate(vec2(-(wide + cx.g.gap()), 0.0));
    let words_at = bar.with_min_x(block.right() + cx.g.gap() + 6.0).with_max_x(sheet.left() - 10.0);
    let [above, below] = crate::screens::halves(words_at, 0.33, 0.82);
    let text = match (part, wing.assessment.gate.state) {
        (Part::Closing, GateState::Clear) => format!("Clear: {all} of {all} met"),
        (Part::Closing, GateState::Hold) if open == 0 => "Nothing is proven".to_owned(),
        (Part::Closing, GateState::Hold) => format!("{open} of {all} not met"),
        (Part::After, _) if open == 0 => format!("After closing: {all} of {all} met"),
        (Part::After, _) => format!("After closing: {open} of {all} not met"),
        (Part::Wings, _) => format!("Wings from their jigs: {} of {all} met", all - open),
    };
    say(ui, above, Align::Min, cx.heavy(38.0, 56.0).least(20.0), "gate", &text);
    say(ui, below, Align::Min, cx.note(18.0, 22.0).least(15.0), "wing", &place(wing, cx, part));
    let size = cx.g.pick(24.0, 30.0);
    if Button::new(sheet, "Sheet", size).second(cx.if_roomy("PDF, Ctrl+P")).show(ui) {
        cx.ask(Action::WriteSheet);
    }
    let second = cx.if_roomy(crate::pages::signs(wing));
    let why = wing.read_only.then_some("read only");
    if Button::new(sign, "Sign…", size).second(second).named("Sign").unless(why).show(ui) {
        cx.s.open(Page::Sign { key: String::new(), statement: String::new() });
    }
}

/// Whose gate it is; after the decision, when and at which entry.
fn place(wing: &Wing, cx: &Cx<'_>, part: Part) -> String {
    let name = crate::screens::wing_words(wing);
    // On a small panel there is room for one of the two.
    let first = if cx.g.roomy() { format!("{name}: ") } else { String::new() };
    match (&wing.assessment.decision, part) {
        (Some(d), Part::Closing) => {
            format!("{first}decided at entry {}, {}, {}", d.on.entry, d.on.by, calendar::full(&d.on.when))
        }
        (Some(_), Part::After) => format!("{first}the decision to close stays as it was"),
        _ if cx.g.roomy() => format!("{name}: {}", crate::reads::stage::words(wing)),
        _ => name,
    }
}

/// HOLD is a block filled with ink; CLEAR is a block of sheet colour with an edge and the mark for met.
pub fn verdict(ui: &Ui, cx: &Cx<'_>, block: Rect, state: GateState) {
    let painter = ui.painter();
    let size = (block.height() * 0.86).min(72.0);
    match state {
        GateState::Hold => {
            frame(painter, block, cx.p.ink, Stroke::NONE);
            let hand = Hand::heavy(size, cx.p.ground).least(16.0);
            put(painter, block.shrink(6.0), Align::Center, hand, "HOLD");
        }
        GateState::Clear => {
            frame(painter, block, cx.p.sheet, Stroke::new(3.0, cx.p.met));
            let mark = block.height() * 0.3;
            let place = pos2(block.left() + 12.0 + mark / 2.0, block.center().y);
            marks::draw(painter, &cx.p, place, mark, Verdict::Within.into());
            let rest = block.shrink(8.0).with_min_x(block.left() + 18.0 + mark);
            put(painter, rest, Align::Center, Hand::heavy(size * 0.7, cx.p.ink).least(16.0), "CLEAR");
        }
    }
    name(ui, block, "verdict", if state == GateState::Hold { "HOLD" } else { "CLEAR" });
}

/// How many of each kind; a tap shows only those. Returns the area left below.
pub fn below_tiles(ui: &Ui, cx: &mut Cx<'_>, part: Part) -> Rect {
    let x = cx.g.body();
    let middle = cx.g.middle(x);
    let top = cx.g.pick(84.0, 128.0);
    let tiles = cx.g.rect(x, top..=top + cx.g.pick(68.0, 84.0));
    let cells = cx.g.cells(tiles, cx.g.pick(8.0, 12.0), &[1.0; 7]);
    for (rect, state) in cells.into_iter().zip(Verdict::WORST_FIRST) {
        let n = cx.index().board(part).with(state).count();
        let on = cx.s.gate.only == Some(state);
        let word = state.obligation_word();
        let named = format!("{n} {word}");
        let button = Button::new(rect, word, 20.0).named(&named).chosen_if(on);
        button.face(ui);
        let middle = rect.top() + rect.height() * 0.38;
        let size = cx.g.pick(23.0, 30.0);
        let count = n.to_string();
        let hand = cx.heavy(30.0, 44.0).least(18.0);
        let wide = crate::draw::text::width(ui.painter(), &hand, &count);
        let left = rect.center().x - (wide + size + 10.0) / 2.0;
        marks::draw(ui.painter(), &cx.p, pos2(left + size / 2.0, middle), size, state.into());
        let beside = row(left + size + 10.0, rect.right() - 4.0, middle, 20.0);
        put(ui.painter(), beside, Align::Min, hand, &count);
        let below = row(rect.left() + 3.0, rect.right() - 3.0, rect.top() + rect.height() * 0.8, 14.0);
        let hand = Hand::medium(cx.g.pick(17.0, 21.0), cx.p.ink).least(15.0);
        // Seven narrow tiles: the longest word is shortened.
        let short = if state == Verdict::CannotJudge { "not judged" } else { word };
        put(ui.painter(), below, Align::Center, hand, short);
        if button.target(ui).clicked() {
            cx.s.gate.only = if on { None } else { Some(state) };
            cx.s.gate.row = 0;
        }
    }
    Rect::from_min_max(pos2(middle.left(), tiles.bottom() + cx.g.pick(8.0, 20.0)), middle.max)
}
