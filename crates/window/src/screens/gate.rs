//! May the skins go on? HOLD or CLEAR, how many of how many, how many of each kind, the worst first, and every obligation
//! with a mark on the board. A row opens its evidence.

use super::{Cx, lines, list, notice};
use crate::action::Action;
use crate::draw::button::{Button, Look};
use crate::draw::marks::{self, Mark};
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row, say};
use crate::model::{Chain, Wing};
use crate::pages::Page;
use crate::reads::board::Item;
use crate::state::Nav;
use crate::words;
use egui::{Align, Rect, Stroke, Ui, pos2, vec2};
use record::GateState;

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let Some(index) = cx.index() else { return };
    let all = index.board.list.len();
    let open = index.board.open();
    let shown: Vec<Item> = match cx.s.gate.only {
        Some(mark) => index.board.list.iter().filter(|i| i.mark == mark).cloned().collect(),
        None if open > 0 => index.board.list.iter().filter(|i| i.mark != Mark::Met).cloned().collect(),
        None => index.board.list.clone(),
    };
    follow(cx, shown.len());
    if cx.s.gate.evidence
        && let Some(item) = shown.get(cx.s.gate.row)
    {
        super::gate_evidence::show(ui, wing, cx, &item.clone(), shown.len());
        return;
    }
    head(ui, wing, cx, open, all);
    if cx.g.roomy() {
        let middle = below_tiles(ui, cx);
        let (a, b) = halves(cx, middle);
        let tapped = rows(ui, cx, a, &shown);
        board(ui, cx, b);
        foot(ui, wing, cx, a, &shown, tapped);
    } else if cx.s.gate.board {
        let middle = cx.g.middle(cx.g.body());
        board(ui, cx, middle.with_min_y(middle.top() + 4.0));
        legend(ui, cx);
    } else {
        let area = below_tiles(ui, cx);
        let tapped = rows(ui, cx, area, &shown);
        foot(ui, wing, cx, area, &shown, tapped);
    }
}

fn halves(cx: &Cx<'_>, middle: Rect) -> (Rect, Rect) {
    let left = middle.width() * 0.536;
    (middle.with_max_x(middle.left() + left), middle.with_min_x(middle.left() + left + cx.g.edge()))
}

fn follow(cx: &mut Cx<'_>, count: usize) {
    let last = count.saturating_sub(1);
    let gate = &mut cx.s.gate;
    gate.row = gate.row.min(last);
    match cx.s.nav {
        Some(Nav::Down) => gate.row = (gate.row + 1).min(last),
        Some(Nav::Up) => gate.row = gate.row.saturating_sub(1),
        _ => {}
    }
}

/// The block that is told apart across a room, the count, Sheet and Sign.
fn head(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, open: usize, all: usize) {
    let bar = cx.g.title(cx.g.body());
    let block = bar.with_max_x(bar.left() + cx.g.pick(144.0, 216.0));
    verdict(ui, cx, block, wing.assessment.gate.state);
    let wide = cx.g.pick(98.0, 180.0);
    let sign = bar.with_min_x(bar.right() - wide);
    let sheet = sign.translate(vec2(-(wide + cx.g.gap()), 0.0));
    let words_at = Rect::from_min_max(
        pos2(block.right() + cx.g.gap() + 6.0, bar.top()),
        pos2(sheet.left() - 10.0, bar.bottom()),
    );
    let (above, below) = super::halves(words_at, 0.33, 0.82);
    let text = match wing.assessment.gate.state {
        GateState::Clear => format!("Clear: {all} of {all} met"),
        GateState::Hold if open > 0 => format!("{open} of {all} not met"),
        GateState::Hold => "Nothing is proven".to_owned(),
    };
    say(ui, above, Align::Min, cx.heavy(38.0, 56.0).least(20.0), "gate", &text);
    let stage = crate::reads::stage::words(wing);
    let place =
        if cx.g.roomy() { format!("{}: {stage}", super::wing_words(wing)) } else { super::wing_words(wing) };
    say(ui, below, Align::Min, cx.note(18.0, 22.0).least(15.0), "wing", &place);
    let roomy = cx.g.roomy();
    let size = cx.g.pick(24.0, 30.0);
    if Button::new(sheet, "Sheet", size).second(if roomy { "PDF, Ctrl+P" } else { "" }).show(ui) {
        cx.ask(Action::WriteSheet);
    }
    let second = match (roomy, open) {
        (false, _) => "",
        (true, 0) => "the gate is clear",
        _ => "as seen, not clear",
    };
    let why = wing.read_only.then_some("read only");
    if Button::new(sign, "Sign…", size).second(second).named("Sign").unless(why).show(ui) {
        cx.s.open(Page::Sign { key: String::new(), statement: String::new() });
    }
}

/// HOLD is a block of ink; CLEAR a block of sheet with a met edge and the met mark.
pub fn verdict(ui: &Ui, cx: &Cx<'_>, block: Rect, state: GateState) {
    let painter = ui.painter();
    let size = (block.height() * 0.86).min(72.0);
    match state {
        GateState::Hold => {
            frame(painter, block, cx.p.ink, Stroke::NONE);
            put(
                painter,
                block.shrink(6.0),
                Align::Center,
                Hand::heavy(size, cx.p.ground).least(16.0),
                "HOLD",
            );
        }
        GateState::Clear => {
            frame(painter, block, cx.p.sheet, Stroke::new(3.0, cx.p.met));
            let mark = block.height() * 0.3;
            marks::draw(
                painter,
                &cx.p,
                pos2(block.left() + 12.0 + mark / 2.0, block.center().y),
                mark,
                Mark::Met,
            );
            let rest = block.shrink(8.0).with_min_x(block.left() + 18.0 + mark);
            put(painter, rest, Align::Center, Hand::heavy(size * 0.7, cx.p.ink).least(16.0), "CLEAR");
        }
    }
    name(ui, block, "verdict", if state == GateState::Hold { "HOLD" } else { "CLEAR" });
}

/// How many of each kind; a tap shows only those. Gives what is left below.
fn below_tiles(ui: &Ui, cx: &mut Cx<'_>) -> Rect {
    let x = cx.g.body();
    let middle = cx.g.middle(x);
    let top = cx.g.pick(84.0, 128.0);
    let tiles = cx.g.rect(x, (top, top + cx.g.pick(68.0, 84.0)));
    let cells = cx.g.cells(tiles, cx.g.pick(8.0, 12.0), &[1.0; 7]);
    for (rect, mark) in cells.into_iter().zip([
        Mark::Outside,
        Mark::Bar,
        Mark::Doubtful,
        Mark::Undecided,
        Mark::Stale,
        Mark::Missing,
        Mark::Met,
    ]) {
        let n = cx.index().map_or(0, |i| i.board.with(mark));
        let on = cx.s.gate.only == Some(mark);
        let word = if mark == Mark::Met { "met" } else { mark.word() };
        let named = format!("{n} {word}");
        let look = if on { Look::Chosen } else { Look::Plain };
        let button = Button { look, ..Button::new(rect, word, 20.0).named(&named) };
        button.face(ui);
        let middle = rect.top() + rect.height() * 0.38;
        let size = cx.g.pick(23.0, 30.0);
        let count = n.to_string();
        let hand = cx.heavy(30.0, 44.0).least(18.0);
        let wide = crate::draw::text::width(ui.painter(), &hand, &count);
        let left = rect.center().x - (wide + size + 10.0) / 2.0;
        marks::draw(ui.painter(), &cx.p, pos2(left + size / 2.0, middle), size, mark);
        put(
            ui.painter(),
            row(left + size + 10.0, rect.right() - 4.0, middle, 20.0),
            Align::Min,
            hand,
            &count,
        );
        let below = row(rect.left() + 3.0, rect.right() - 3.0, rect.top() + rect.height() * 0.8, 14.0);
        let hand = Hand::medium(cx.g.pick(17.0, 21.0), cx.p.ink).least(15.0);
        // Seven narrow tiles: the longest word is said shorter.
        let short = if mark == Mark::Bar { "not judged" } else { word };
        put(ui.painter(), below, Align::Center, hand, short);
        if button.target(ui).clicked() {
            cx.s.gate.only = if on { None } else { Some(mark) };
            cx.s.gate.row = 0;
        }
    }
    Rect::from_min_max(pos2(middle.left(), tiles.bottom() + cx.g.pick(8.0, 20.0)), middle.max)
}

fn rows(ui: &Ui, cx: &Cx<'_>, area: Rect, shown: &[Item]) -> Option<usize> {
    let rows: Vec<list::Row> = shown.iter().map(|i| item_row(cx, i)).collect();
    let per = list::per_page(cx, area);
    let from = cx.s.gate.row / per * per;
    if rows.is_empty() {
        frame(ui.painter(), area, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
        lines(ui, area.shrink(20.0), cx.heavy(24.0, 28.0), "empty", "None of these.", 1);
    }
    list::show(ui, cx, area, &rows, from, Some(cx.s.gate.row))
}

fn item_row(cx: &Cx<'_>, item: &Item) -> list::Row {
    let on = cx.model.wing.as_ref().and_then(|w| crate::reads::evidence::value(w, item));
    let (value, limit) = match (on, &item.found, &item.limit) {
        (Some(v), ..) => (
            words::judged(v.value, v.u, [v.lower, v.upper], v.unit),
            format!("limit {}", words::limits(v.lower, v.upper, v.unit)),
        ),
        (None, Some(found), limit) => (
            found.replacen(" ±", " ± ", 1),
            limit.as_ref().map_or_else(String::new, |l| format!("limit {l}")),
        ),
        (None, None, _) => Default::default(),
    };
    // Value and limit have their own place at the right; the line below the title says what they do not.
    let proven = match item.mark {
        Mark::Outside => "proven outside",
        Mark::Met => "proven within",
        _ => item.mark.word(),
    };
    let note = match &item.settles {
        Some(settles) => settles.clone(),
        None if value.is_empty() => item.words.clone(),
        // A station is called by its name, which the title has.
        None if item.what == item.about => proven.to_owned(),
        None => format!("{proven}: {}", item.what),
    };
    let title = item.title();
    let name = if value.is_empty() {
        format!("Evidence of {title}")
    } else {
        format!("Evidence of {title}: {value}")
    };
    list::Row { name, ..list::Row::new(title, note).right(value, limit).mark(item.mark) }
}

/// Every obligation one mark, by kind.
fn board(ui: &Ui, cx: &Cx<'_>, area: Rect) {
    let Some(index) = cx.index() else { return };
    let painter = ui.painter();
    frame(painter, area, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
    let mut top = area.top() + 6.0;
    if cx.g.roomy() {
        let line = row(area.left() + 16.0, area.right() - 10.0, top + 18.0, 20.0);
        put(painter, line, Align::Min, Hand::heavy(24.0, cx.p.ink), "Every obligation, one mark each");
        top += 38.0;
    }
    let rows = &index.board.rows;
    let pitch = ((area.bottom() - top - 6.0) / rows.len().max(1) as f32).min(34.0);
    let column = cx.g.pick(180.0, 150.0);
    for (n, r) in rows.iter().enumerate() {
        let middle = top + pitch * (n as f32 + 0.5);
        let label = row(area.left() + 14.0, area.left() + column, middle, pitch - 2.0);
        put(
            painter,
            label,
            Align::Min,
            Hand::medium(cx.g.pick(18.0, 19.0).min(pitch * 0.8), cx.p.ink).least(15.0),
            &r.name,
        );
        let free = area.right() - area.left() - column - 24.0;
        let step = (free / r.marks.len().max(1) as f32).min(cx.g.pick(40.0, 27.0));
        let least = 9.0;
        let fit = if step < least { (free / least).floor() } else { r.marks.len() as f32 };
        let step = step.max(least);
        let size = (step * 0.66).min(17.0).min(pitch * 0.7);
        for (i, mark) in r.marks.iter().enumerate() {
            if i as f32 >= fit {
                break;
            }
            let at = pos2(area.left() + column + 10.0 + step * (i as f32 + 0.5), middle);
            marks::draw(painter, &cx.p, at, size, *mark);
        }
        let said: Vec<&str> = r.marks.iter().map(|m| m.word()).collect();
        name(
            ui,
            label.with_max_x(area.right()),
            &format!("board {}", r.name),
            &format!("{}: {}", r.name, said.join(", ")),
        );
    }
}

/// What the marks of the board add up to, and the way back to the list.
fn legend(ui: &Ui, cx: &mut Cx<'_>) {
    let bar = cx.g.buttons(cx.g.body());
    let back = bar.with_max_x(bar.left() + 112.0);
    let rest = bar.with_min_x(back.right() + 20.0);
    let mut x = rest.left();
    let mut y = rest.top() + rest.height() * 0.28;
    for mark in Mark::SEVEN {
        let n = cx.index().map_or(0, |i| i.board.with(mark));
        let word = if mark == Mark::Met { "met" } else { mark.word() };
        let text = format!("{n} {word}");
        let hand = Hand::medium(18.0, cx.p.ink);
        let wide = crate::draw::text::width(ui.painter(), &hand, &text) + 26.0;
        if x + wide > rest.right() {
            x = rest.left();
            y += rest.height() * 0.46;
        }
        marks::draw(ui.painter(), &cx.p, pos2(x + 9.0, y), 17.0, mark);
        put(ui.painter(), row(x + 24.0, x + wide + 4.0, y, 14.0), Align::Min, hand, &text);
        x += wide + 18.0;
    }
    if Button::new(back, "List", 26.0).show(ui) {
        cx.s.gate.board = false;
    }
}

fn foot(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, area: Rect, shown: &[Item], tapped: Option<usize>) {
    let bar = cx.g.buttons(cx.g.body());
    let wide = cx.g.pick(72.0, 88.0);
    let up = bar.with_max_x(bar.left() + wide);
    let down = up.translate(vec2(wide + 8.0, 0.0));
    let per = list::per_page(cx, area);
    let from = cx.s.gate.row / per * per;
    let to = list::pager(ui, cx, [up, down], area, shown.len(), from);
    if to != from {
        cx.s.gate.row = to;
    }
    let last = (from + per).min(shown.len());
    let range = if shown.is_empty() {
        "none".to_owned()
    } else {
        format!("{} to {last} of {}", from + 1, shown.len())
    };
    let (mid_left, mid_right) = (down.right() + 14.0, down.right() + cx.g.pick(124.0, 190.0));
    let (a, b) = super::halves(
        Rect::from_min_max(pos2(mid_left, bar.top()), pos2(mid_right, bar.bottom())),
        0.3,
        0.74,
    );
    say(ui, a, Align::Min, cx.heavy(20.0, 22.0).least(15.0), "range", &range);
    put(ui.painter(), b, Align::Min, cx.note(18.0, 21.0).least(15.0), "worst first");
    let button = Rect::from_min_max(
        pos2(mid_right + 8.0, bar.top()),
        pos2(mid_right + cx.g.pick(118.0, 190.0), bar.bottom()),
    );
    if cx.g.roomy() {
        let why = shown.is_empty().then_some("nothing is chosen");
        if Button::new(button, "Evidence", 28.0).second("of the row, Enter").unless(why).show(ui)
            || (why.is_none() && crate::keys::main_asked(ui.ctx()))
        {
            cx.s.gate.evidence = true;
        }
    } else if Button::new(button, "Board", 24.0).show(ui) {
        cx.s.gate.board = true;
    }
    if !cx.g.roomy() && crate::keys::main_asked(ui.ctx()) && !shown.is_empty() {
        cx.s.gate.evidence = true;
    }
    if let Some(row) = tapped {
        cx.s.gate.row = row;
        cx.s.gate.evidence = true;
    }
    let left = if cx.g.roomy() { area.right() + cx.g.edge() } else { button.right() + 12.0 };
    record(ui, wing, cx, Rect::from_min_max(pos2(left, bar.top()), bar.max));
}

/// The state of the log itself, or what went wrong.
fn record(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, at: Rect) {
    if notice(ui, cx, at) {
        return;
    }
    let (text, button) = match &wing.chain {
        Chain::Whole(n) => (format!("Log whole: {n} entries, every link checked."), false),
        Chain::NotWalked => (format!("{} entries; links not checked yet.", wing.assessment.entries), true),
        Chain::Broken(why) => (format!("{why}: look, do not sign."), false),
    };
    let at = if button {
        let wide = cx.g.pick(84.0, 120.0);
        if Button::new(at.with_min_x(at.right() - wide), "Check it", cx.g.pick(20.0, 26.0)).show(ui) {
            cx.ask(Action::WalkChain);
        }
        at.with_max_x(at.right() - wide - 10.0)
    } else {
        at
    };
    let said = cx
        .model
        .notice
        .as_ref()
        .filter(|n| !n.wrong)
        .map_or("The program measures; it does not approve.", |n| n.words.as_str());
    let (a, b) = super::halves(at, 0.28, 0.74);
    let hand = Hand::medium(cx.g.pick(18.0, 21.0), cx.p.ink).least(15.0);
    say(ui, a, Align::Min, hand, "log", &text);
    say(ui, b, Align::Min, Hand { colour: cx.p.pale, ..hand }, "said", said);
}
