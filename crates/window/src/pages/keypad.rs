//! A number is typed: a reading as the instrument shows it, turns of a screw, a temperature, a length of the plan.

mod units;

use super::{Page, TypeFor, Typing, change};
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row, say};
use crate::model::Wing;
use crate::screens::{Cx, measure};
use crate::words;
use egui::{Align, Key, Modifiers, Rangef, Rect, Stroke, Ui, pos2, vec2};
use quantity::{Kind, Unit};
use units::Units;

/// Most letters of a typed number.
const MOST: usize = 40;

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, mut typing: Typing) {
    let units = Units::of(cx, &typing);
    hardware(ui, &mut typing);
    let Rangef { min: left, max: right } = cx.g.whole();
    let split = left + (right - left) * 0.46;
    let (top, bottom) = (cx.g.pick(12.0, 24.0), cx.g.screen.height() - cx.g.pick(12.0, 16.0));
    let pad = cx.g.rect(split..=right, top..=bottom);
    let column = Rangef::new(left, split - cx.g.pick(16.0, 24.0));
    let mut done = keys(ui, cx, pad, &mut typing, units.kind);
    head(ui, cx, column, &typing);
    let entry_top = cx.g.pick(76.0, 128.0);
    let entry = cx.g.rect(column, entry_top..=entry_top + cx.g.pick(100.0, 150.0));
    show_entry(ui, cx, entry, &typing, units.suffix().trim());
    let hint = row(entry.left(), entry.right(), entry.bottom() + cx.g.pick(24.0, 34.0), 18.0);
    match &typing.wrong {
        Some(wrong) => {
            let hand = Hand::heavy(cx.g.pick(19.0, 22.0), cx.p.ink).least(15.0);
            let two = Rect::from_center_size(hint.center(), vec2(hint.width(), 44.0));
            crate::screens::lines(ui, two, hand, "wrong", wrong, 2);
        }
        None => {
            let text = hint_words(cx, &typing);
            say(ui, hint, Align::Min, cx.note(19.0, 22.0), "hint", &text);
        }
    }
    let chips_top = entry.bottom() - cx.g.screen.top() + cx.g.pick(46.0, 66.0);
    let chips = cx.g.rect(column, chips_top..=chips_top + cx.g.pick(52.0, 64.0));
    unit_chips(ui, cx, chips, &mut typing, &units);
    let with = cx.g.rect(column, chips_top + cx.g.pick(60.0, 80.0)..=chips_top + cx.g.pick(110.0, 142.0));
    extras(ui, cx, with, &mut typing);
    let buttons = cx.g.buttons(column);
    let cancel = foot(ui, cx, buttons, &typing);
    done |= crate::keys::main_asked(ui.ctx());
    if cancel {
        cx.s.close();
    } else if done {
        finish(cx, typing);
    } else {
        change(cx, Page::Keypad(typing));
    }
}

fn hardware(ui: &Ui, typing: &mut Typing) {
    let typed = crate::keys::typed(ui.ctx());
    let erase = ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Backspace));
    if erase {
        typing.text.pop();
    }
    if erase || !typed.is_empty() {
        typing.wrong = None;
    }
    let sound = typed.replace('-', "\u{2212}");
    typing.text.push_str(&sound);
    typing.text = typing.text.chars().filter(|c| !c.is_control()).take(MOST).collect();
}

fn keys(ui: &Ui, cx: &Cx<'_>, pad: Rect, typing: &mut Typing, kind: Option<Kind>) -> bool {
    let (a, b) = match (&typing.to, kind) {
        (_, Some(Kind::Angle)) => ("°", "′"),
        _ => ("/", "space"),
    };
    let rows =
        [["7", "8", "9", "Erase"], ["4", "5", "6", a], ["1", "2", "3", b], ["\u{2212}", "0", ".", "Done"]];
    let cell = crate::grid::table(pad, 4, 4, 8.0);
    let mut done = false;
    for (n, text) in rows.into_iter().flatten().enumerate() {
        let word = text.chars().count() > 1;
        let size = if word { cx.g.pick(24.0, 30.0) } else { cx.g.pick(42.0, 56.0) };
        let button = Button::new(cell(n), text, size);
        let button = if text == "Done" { button.main() } else { button };
        if button.show(ui) {
            typing.wrong = None;
            match text {
                "Done" => done = true,
                "Erase" => drop(typing.text.pop()),
                "space" => typing.text.push(' '),
                other => typing.text.push_str(other),
            }
        }
    }
    done
}

fn head(ui: &Ui, cx: &Cx<'_>, column: Rangef, typing: &Typing) {
    let bar = cx.g.title(column);
    let (title, note) = match &typing.to {
        TypeFor::Reading(p) => {
            let facing =
                p.kind().reverses().then(|| format!("facing {}", p.kind().toward(cx.s.measuring.facing)));
            (p.place().to_owned(), facing.unwrap_or_else(|| words::kind_words(p.kind()).to_owned()))
        }
        TypeFor::Move(support) => (support.clone(), "turned by".to_owned()),
        TypeFor::Part => ("Part".to_owned(), "its temperature".to_owned()),
        TypeFor::Field(f) => (f.name.clone(), String::new()),
    };
    let hand = cx.heavy(54.0, 72.0).least(22.0);
    let at = put(ui.painter(), bar.with_max_x(bar.left() + bar.width() * 0.6), Align::Min, hand, &title);
    let rest = bar.with_min_x(at.right() + 18.0);
    put(ui.painter(), rest, Align::Min, cx.heavy(30.0, 36.0).least(16.0), &note);
    name(ui, bar, "title", &format!("{title} {note}"));
}

fn show_entry(ui: &Ui, cx: &Cx<'_>, entry: Rect, typing: &Typing, unit: &str) {
    frame(ui.painter(), entry, cx.p.sheet, Stroke::new(3.0, cx.p.control));
    let inner = entry.shrink2(vec2(22.0, 8.0));
    let note = Hand::heavy(cx.g.pick(26.0, 32.0), cx.p.pale).least(15.0);
    let right = row(inner.left() + inner.width() * 0.6, inner.right(), inner.center().y, 20.0);
    let at = put(ui.painter(), right, Align::Max, note, unit);
    let hand = Hand::heavy(cx.g.pick(86.0, 120.0), cx.p.ink).least(26.0);
    let text = inner.with_max_x(at.left() - 14.0);
    let end = put(ui.painter(), text, Align::Min, hand, &typing.text);
    let x = if typing.text.is_empty() { inner.left() } else { end.right() + 4.0 };
    let cursor = Rect::from_min_max(pos2(x, inner.top() + 10.0), pos2(x + 4.0, inner.bottom() - 10.0));
    ui.painter().rect_filled(cursor, 0.0, cx.p.control);
    name(ui, entry, "field", &format!("typed: {}", typing.text));
}

fn hint_words(cx: &Cx<'_>, typing: &Typing) -> String {
    match &typing.to {
        TypeFor::Reading(p) => {
            let view = cx.model.wing.as_ref().and_then(|w| cx.index().view(w, p));
            let design = view.and_then(|v| {
                let sign = if p.kind().reverses() { cx.s.measuring.facing.sign() } else { 1.0 };
                let scale = units::of_plan(cx).scale(v.unit);
                v.design.map(|d| words::signed_unit(scale, d * sign, words::usual_decimals(v.unit)))
            });
            let hidden = cx.s.looks.blind;
            let design = design.filter(|_| !hidden).map_or(String::new(), |d| format!("; by design {d}"));
            format!("as the instrument shows it{design}")
        }
        TypeFor::Move(_) => match units::of_plan(cx).of(Kind::Length) {
            Unit::Inch => "as you turned it: 1 3/8, or inches".to_owned(),
            _ => "as you turned it: 1 3/8, or millimetres".to_owned(),
        },
        TypeFor::Part => "for lengths: the part, not the room".to_owned(),
        TypeFor::Field(_) => "from the drawings or the kit maker's data".to_owned(),
    }
}

fn unit_chips(ui: &Ui, cx: &Cx<'_>, row: Rect, typing: &mut Typing, units: &Units) {
    let weights = vec![1.0; units.chips.len().max(1)];
    for (n, (rect, unit)) in cx.g.cells(row, 8.0, &weights).into_iter().zip(&units.chips).enumerate() {
        if Button::new(rect, unit.text, cx.g.pick(20.0, 24.0)).chosen_if(units.chosen == n).show(ui) {
            typing.unit = Some(n);
            typing.wrong = None;
        }
    }
}

/// The instrument, and whether a new round begins.
fn extras(ui: &Ui, cx: &mut Cx<'_>, rect: Rect, typing: &mut Typing) {
    let (TypeFor::Reading(point), Some(wing)) = (&typing.to.clone(), &cx.model.wing) else { return };
    let [a, b] = cx.g.split(rect, 8.0, [1.5, 1.0]);
    let size = cx.g.pick(19.0, 23.0);
    let with = cx.s.measuring.instrument.clone();
    let text = with.clone().unwrap_or_else(|| "no instrument named".to_owned());
    if Button::new(a, &text, size).second("with").named("Instrument").show(ui) {
        cx.s.measuring.instrument = after(wing, cx, point, with.as_deref());
        typing.unit = None;
    }
    let on = cx.s.measuring.new_round;
    if Button::new(b, "New round", size).second(if on { "yes" } else { "no" }).chosen_if(on).show(ui) {
        cx.s.measuring.new_round = !on;
    }
}

/// The next instrument of those that measure what the point asks for; `None` after the last.
fn after(wing: &Wing, cx: &Cx<'_>, point: &record::Point, now: Option<&str>) -> Option<String> {
    let kind = wing.plan.quantity_of(point);
    let fits = |i: &&record::Instrument| i.kind.quantity().is_none_or(|q| Some(q) == kind);
    let names: Vec<String> = cx.index().instruments.iter().filter(fits).map(|i| i.name.clone()).collect();
    match now.and_then(|n| names.iter().position(|x| x == n)) {
        Some(at) => names.get(at + 1).cloned(),
        None => names.first().cloned(),
    }
}

/// Cancel, and for a reading the other facing; true for Cancel.
fn foot(ui: &Ui, cx: &mut Cx<'_>, buttons: Rect, typing: &Typing) -> bool {
    let size = cx.g.pick(24.0, 30.0);
    let TypeFor::Reading(point) = &typing.to else { return Button::new(buttons, "Cancel", size).show(ui) };
    if !point.kind().reverses() {
        return Button::new(buttons, "Cancel", size).show(ui);
    }
    let [a, b] = cx.g.split(buttons, 8.0, [1.0, 1.0]);
    let text = format!("Face {}", point.kind().toward(cx.s.measuring.facing.turned()));
    if Button::new(b, &text, size).show(ui) {
        cx.s.measuring.facing = cx.s.measuring.facing.turned();
    }
    Button::new(a, "Cancel", size).show(ui)
}

fn finish(cx: &mut Cx<'_>, mut typing: Typing) {
    let units = Units::of(cx, &typing);
    let text = units.plain(&typing.text);
    let nothing = typing.text.trim().is_empty().then(|| "Type it first.".to_owned());
    typing.wrong = nothing.or_else(|| units.wrong(&text));
    if typing.wrong.is_some() {
        return change(cx, Page::Keypad(typing));
    }
    cx.s.close();
    match typing.to.clone() {
        TypeFor::Reading(point) => {
            if let Some(wing) = &cx.model.wing {
                measure::take_typed(cx.s, wing, point, Typing { text, ..typing }, cx.ask);
            }
        }
        TypeFor::Move(support) => cx.ask(Action::Move { support, text, sure: bench::Sure::Unsaid }),
        TypeFor::Part => cx.s.measuring.part = text,
        TypeFor::Field(f) => cx.s.draft.set(f.part, f.at, &text),
    }
}
