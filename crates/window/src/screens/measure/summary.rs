//! The end of a stage: how many are outside, undecided, within; the worst; whether the zero held; what comes next.

use crate::draw::button::Button;
use crate::draw::marks::{self, Mark};
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row};
use crate::model::Wing;
use crate::pages::Page;
use crate::reads::index::{alike, mark_of};
use crate::reads::stage;
use crate::screens::{Cx, Screen, lines, notice, pair_row, title, undo_button};
use crate::state::State;
use crate::words;
use assess::Verdict;
use assess::advice::AdviceState;
use egui::{Align, Rect, Stroke, Ui, pos2};
use quantity::shown;
use record::{GateState, Point};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// True if everything the stage requires is measured and the person did not turn back to a point.
pub fn due(s: &State) -> bool {
    s.index.left.is_empty()
        && s.index.required > 0
        && !s.measuring.past_summary
        && s.measuring.taken.is_none()
        && s.measuring.asked.is_none()
}

pub fn begin(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let x = cx.g.body();
    title(ui, cx, x, "No stage begun", ["", ""]);
    let first = wing.plan.stages.first().map_or("the first stage", |s| s.name.as_str());
    let middle = cx.g.middle(x);
    let line = middle.with_max_y(middle.top() + 60.0);
    if !notice(ui, cx, line) {
        let text = format!("Begin with {first}.");
        lines(ui, line, cx.heavy(36.0, 44.0), "instruction", &text, 1);
    }
    let small = row(middle.left(), middle.right(), middle.top() + 90.0, 30.0);
    let text = "A stage says what must be measured, and what it disturbs.";
    lines(ui, small, cx.note(20.0, 24.0), "stages are", text, 1);
    let buttons = cx.g.buttons(x);
    let [undo, list, main] = cx.g.split(buttons, cx.g.gap(), [124.0, 200.0, 340.0]);
    undo_button(ui, cx, undo);
    if Button::new(list, "Stages", cx.g.pick(24.0, 30.0)).show(ui) {
        cx.s.open(Page::Stages { at: stage::next(wing) });
    }
    let why = wing.read_only.then_some("read only");
    let text = format!("Begin {first}");
    if Button::new(main, &text, cx.g.pick(30.0, 38.0)).main().unless(why).show(ui) {
        cx.s.open(Page::Stages { at: 0 });
    }
}

/// A verdict with its places.
fn tiles(wing: &Wing, cx: &Cx<'_>) -> Vec<(Mark, Vec<Point>)> {
    let index = cx.index();
    let mut tiles: BTreeMap<Reverse<Mark>, Vec<Point>> = BTreeMap::new();
    for (point, view) in index.points.iter().zip(&wing.assessment.points).filter(|(_, v)| v.required) {
        tiles.entry(Reverse(mark_of(view, cx.s.looks.facings()))).or_default().push(point.clone());
    }
    for empty in [Verdict::Outside, Verdict::Undecided, Verdict::Within].map(Mark::Of) {
        if tiles.len() < 3 {
            tiles.entry(Reverse(empty)).or_default();
        }
    }
    // Of more than three, the two worst and the best.
    let last = tiles.len() - 1;
    let shown = tiles.into_iter().enumerate().filter(|(i, _)| *i < 2 || *i == last);
    shown.map(|(_, (mark, list))| (mark.0, list)).collect()
}

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let x = cx.g.body();
    let stage_name = wing.assessment.stage.clone().unwrap_or_default();
    let required = cx.index().required;
    title(ui, cx, x, &format!("{stage_name}: all {required} done"), ["", ""]);
    let middle = cx.g.middle(x);
    let tiles_high = cx.g.pick(132.0, 200.0);
    let tile_row = middle.with_max_y(middle.top() + tiles_high);
    let tiles = tiles(wing, cx);
    for (rect, (mark, list)) in cx.g.cells(tile_row, cx.g.gap(), &[1.0, 1.0, 1.0]).into_iter().zip(tiles) {
        tile(ui, cx, rect, mark, &list);
    }
    let top = tile_row.bottom() + cx.g.pick(28.0, 44.0);
    let pitch = cx.g.pick(32.0, 48.0);
    let mut n = 0.0;
    for (left, right) in facts(wing, cx) {
        pair_row(ui, cx, row(middle.left(), middle.right(), top + pitch * n, 24.0), &left, &right);
        n += 1.0;
    }
    let last = row(middle.left(), middle.right(), top + pitch * n + 10.0, cx.g.pick(50.0, 64.0));
    if !notice(ui, cx, last) {
        lines(ui, last, Hand::medium(cx.g.pick(20.0, 24.0), cx.p.ink), "what next", &next_words(wing), 1);
    }
    buttons(ui, wing, cx);
}

fn tile(ui: &Ui, cx: &Cx<'_>, rect: Rect, mark: Mark, list: &[Point]) {
    frame(ui.painter(), rect, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
    let size = cx.g.pick(46.0, 60.0);
    let middle = rect.top() + rect.height() * 0.38;
    marks::draw(ui.painter(), &cx.p, pos2(rect.left() + 18.0 + size / 2.0, middle), size, mark);
    let number = row(rect.left() + size + 34.0, rect.right() - 10.0, middle, 40.0);
    let count = list.len().to_string();
    let at = put(ui.painter(), number, Align::Min, cx.heavy(60.0, 80.0), &count);
    let hand = cx.heavy(24.0, 30.0).least(15.0);
    put(ui.painter(), number.with_min_x(at.right() + 10.0), Align::Min, hand, mark.word());
    let below = row(rect.left() + 20.0, rect.right() - 10.0, rect.top() + rect.height() * 0.8, 16.0);
    let places = places(list, &cx.index().points);
    put(ui.painter(), below, Align::Min, cx.note(22.0, 24.0).least(15.0), &places);
    name(ui, rect, mark.word(), &format!("{count} {}: {places}", mark.word()));
}

/// Places in words: a run of stations by its ends, also if some of `all` between them are not among them.
fn places(list: &[Point], all: &[Point]) -> String {
    let names: Vec<&str> = list.iter().map(Point::place).collect();
    let one_kind = list.windows(2).all(|w| matches!(w, [a, b] if alike(a, b)));
    let between =
        || all.iter().skip_while(|p| Some(*p) != list.first()).take_while(|p| Some(*p) != list.last());
    match names.as_slice() {
        [] => "none".to_owned(),
        [first, .., last] if one_kind && names.len() > 3 => {
            let of = list.first().map_or(0, |one| between().filter(|p| alike(p, one)).count() + 1);
            format!("{}{first} to {last}", if of > names.len() { "among " } else { "" })
        }
        _ if names.len() > 3 => shown::counted(names.len(), "point", "points"),
        _ => names.join(", "),
    }
}

fn facts(wing: &Wing, cx: &Cx<'_>) -> Vec<(String, String)> {
    let mut rows = Vec::new();
    if let Some(twist) = &wing.assessment.twist
        && let Some(s) = twist.worst()
        && let Some((v, u)) = s.twist_error_deg.zip(s.u_deg)
    {
        let (angles, limits) = (wing.angles(), [twist.lower_deg, twist.upper_deg]);
        let value = words::judged(angles, v, u, limits);
        let text = format!("{} {value}, {}", s.name, words::limit(angles, limits[0], limits[1]));
        rows.push(("Worst station".to_owned(), text));
    }
    if let Some(z) = wing.assessment.zeros.last() {
        let held = if z.moved { "moved within the round" } else { "held through the round" };
        let zero = words::with_u(wing.angles(), z.zero_deg, z.u_deg);
        rows.push((format!("Zero of {}", z.instrument), format!("{zero}, {held}")));
    }
    let readings: usize = wing.assessment.points.iter().filter(|v| v.required).map(|v| v.readings).sum();
    let by = cx.model.who.name.as_str();
    rows.push(("Readings".to_owned(), format!("{readings} count; at the bench {by}")));
    rows
}

fn next_words(wing: &Wing) -> String {
    match &wing.advice {
        Some(advice) => words::by_touch(&advice.words.to_string()),
        None if wing.assessment.gate.state == GateState::Clear => {
            "Nothing is open: every obligation is met.".to_owned()
        }
        None if wing.assessment.twist.is_none() => "Look at the gate before the next stage.".to_owned(),
        None => "Look at the profile, and at what to turn, before the next stage.".to_owned(),
    }
}

fn buttons(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let [undo, small, profile, large] =
        cx.g.split(cx.g.buttons(cx.g.body()), cx.g.gap(), [124.0, 176.0, 140.0, 220.0]);
    undo_button(ui, cx, undo);
    let at = stage::next(wing);
    let stages = &wing.plan.stages;
    let name = stages.get(at).map_or("", |s| s.name.as_str());
    let last = wing.assessment.stage.as_deref() == stages.last().map(|s| s.name.as_str());
    // Where nothing is to be turned, what comes next is the main thing.
    let leave = match &wing.advice {
        Some(advice) => advice.state == AdviceState::Leave,
        None => wing.assessment.gate.state == GateState::Clear || wing.assessment.twist.is_none(),
    };
    let (next, turn) = if leave { (large, small) } else { (small, large) };
    let size = |rect: Rect| if rect == large { cx.g.pick(28.0, 36.0) } else { cx.g.pick(24.0, 30.0) };
    let button = |rect: Rect, text| Button::new(rect, text, size(rect));
    let main =
        |button: Button<'_>, rect: Rect| if rect == large { button.main().show(ui) } else { button.show(ui) };
    if last {
        if main(button(next, "Gate").named("Go to the gate"), next) {
            return cx.s.go(Screen::Gate);
        }
    } else if main(button(next, "Next stage").second(name), next) {
        return cx.s.open(Page::Stages { at });
    }
    if button(profile, "Profile").named("Go to the profile").show(ui) {
        return cx.s.go(Screen::Profile);
    }
    if main(button(turn, "What to turn"), turn) {
        cx.s.go(Screen::Moves);
    }
}
