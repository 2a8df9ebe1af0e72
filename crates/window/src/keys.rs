//! The keyboard: one hand, gloves, a foot switch.

use crate::action::Action;
use crate::face::{SCALES, State};
use crate::model::{Model, Notice};
use crate::screens::Screen;
use crate::screens::dialogs::Dialog;
use egui::{Context, Event, Key, Modifiers, Theme};

/// Every key and what it does, as the help shows it.
pub const HELP: [(&str, &str); 17] = [
    ("Space", "take the value on the port, once it has settled"),
    ("Shift+Space", "take it although it has not settled"),
    ("digits, + -", "begin a typed reading; Enter takes it, Esc drops it"),
    ("R", "turn the facing of the instrument"),
    ("Backspace", "withdraw the last reading, with a reason"),
    ("Left, Right", "the point before and after, as drawn"),
    ("Up, Down", "another thing to measure at the same place"),
    ("N", "the next point still wanted"),
    ("/ or a letter", "find a point by its name"),
    ("H", "hands free: take each settled value by itself"),
    ("P", "the port and the instrument on it"),
    ("S", "the stages of the build"),
    ("F1 to F8", "the screens"),
    ("Ctrl+D", "light or dark"),
    ("Ctrl +, Ctrl -", "larger, smaller"),
    ("Ctrl+W", "close the log"),
    ("?", "this help"),
];

/// Reads the keys of this frame. While a field or a control has the keyboard it keeps its keys.
pub(crate) fn handle(ctx: &Context, s: &mut State, model: &Model, actions: &mut Vec<Action>) {
    looks(ctx, s);
    if model.import.is_some() {
        return;
    }
    if model.notice.is_some() && ctx.input(|i| i.key_pressed(Key::Escape)) {
        actions.push(Action::DismissNotice);
    }
    if s.dialog.is_some() {
        if ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape)) {
            dialog_escape(s, actions);
        }
        return;
    }
    for (screen, key) in Screen::OF_A_LOG {
        if model.wing.is_some() && ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key)) {
            s.screen = screen;
        }
    }
    let Some(wing) = &model.wing else { return };
    if ctx.input_mut(|i| i.consume_key(Modifiers::CTRL, Key::W)) {
        actions.push(Action::CloseLog);
    }
    if ctx.egui_wants_keyboard_input() || !s.screen.has_navigator() {
        return;
    }
    let pressed = |modifiers, key| ctx.input_mut(|i| i.consume_key(modifiers, key));
    if pressed(Modifiers::SHIFT, Key::Space) {
        take(s, model, true, actions);
    }
    if pressed(Modifiers::NONE, Key::Space) {
        take(s, model, false, actions);
    }
    let outboard = if wing.plan.wing.side == record::plan::Side::Left { -1 } else { 1 };
    for (key, by) in [(Key::ArrowRight, outboard), (Key::ArrowLeft, -outboard)] {
        if pressed(Modifiers::NONE, key) {
            s.step(wing, by);
        }
    }
    for (key, by) in [(Key::ArrowDown, 1), (Key::ArrowUp, -1)] {
        if pressed(Modifiers::NONE, key) {
            s.step_kind(wing, by);
        }
    }
    if pressed(Modifiers::NONE, Key::Backspace) {
        withdraw_last(s, model);
    }
    letters(ctx, s, model);
}

fn dialog_escape(s: &mut State, actions: &mut Vec<Action>) {
    if s.dialog == Some(Dialog::Cautions) {
        actions.push(Action::CautionsRead);
    }
    s.dialog = None;
}

fn looks(ctx: &Context, s: &mut State) {
    let nearest = |up: bool| {
        let larger = SCALES.iter().copied().find(|x| *x > s.scale + 0.01);
        let smaller = SCALES.iter().rev().copied().find(|x| *x < s.scale - 0.01);
        (if up { larger } else { smaller }).unwrap_or(s.scale)
    };
    let bigger = ctx.input_mut(|i| {
        i.consume_key(Modifiers::CTRL, Key::Plus) || i.consume_key(Modifiers::CTRL, Key::Equals)
    });
    let smaller = ctx.input_mut(|i| i.consume_key(Modifiers::CTRL, Key::Minus));
    if bigger || smaller {
        s.scale = nearest(bigger);
    }
    if ctx.input_mut(|i| i.consume_key(Modifiers::CTRL, Key::D)) {
        s.theme = Some(if ctx.theme() == Theme::Dark { Theme::Light } else { Theme::Dark });
    }
}

fn letters(ctx: &Context, s: &mut State, model: &Model) {
    let Some(wing) = &model.wing else { return };
    let typed: Vec<String> = ctx.input_mut(|i| {
        let text = |e: &Event| if let Event::Text(t) = e { Some(t.clone()) } else { None };
        let found = i.events.iter().filter_map(text).collect();
        i.events.retain(|e| !matches!(e, Event::Text(_)));
        found
    });
    for text in typed {
        match text.as_str() {
            _ if s.focus_typed => s.typed.push_str(&text),
            _ if s.focus_find => s.find.push_str(&text),
            "r" | "R" => s.turn(),
            "h" | "H" => s.hands.toggle(),
            "n" | "N" => s.advance(wing),
            "p" | "P" => s.dialog = Some(Dialog::port(wing, s.instrument.as_deref())),
            "s" | "S" => s.dialog = Some(Dialog::Stages),
            "?" => s.dialog = Some(Dialog::Keys),
            "/" => {
                s.focus_find = true;
                s.screen = Screen::Measure;
            }
            " " => {}
            t if t.starts_with(|c: char| c.is_ascii_digit() || "+-.\u{2212}".contains(c)) => {
                s.typed = text;
                s.focus_typed = true;
                s.screen = Screen::Measure;
            }
            t if t.starts_with(char::is_alphabetic) => {
                s.find = text;
                s.focus_find = true;
                s.screen = Screen::Measure;
            }
            _ => {}
        }
    }
}

/// Takes the value on the port, or says why not.
pub(crate) fn take(s: &mut State, model: &Model, unsettled: bool, actions: &mut Vec<Action>) {
    let Some(wing) = &model.wing else { return };
    if wing.live.value.is_some() && !s.live_fits(wing) {
        s.hint = Some(hint("The instrument on the port measures something else than this point asks for."));
        return;
    }
    match wing.live.value {
        Some(value) if value.taken && !unsettled => {
            s.hint = Some(hint(
                "It has not moved since the last reading. Move or turn the instrument, or take it all the same with \
                 Shift+Space.",
            ));
        }
        Some(value) if value.ready || unsettled => s.take_live(wing, unsettled && !value.ready, actions),
        Some(_) => {
            s.hint = Some(hint(
                "It has not settled yet. Wait for the ring to close, or take it as it is with Shift+Space.",
            ))
        }
        None => {
            s.hint =
                Some(hint("No value on a port. Type the reading and press Enter, or press P to open a port."))
        }
    }
}

fn hint(words: &str) -> Notice {
    Notice { wrong: false, words: words.to_owned() }
}

/// Asks for the reason to withdraw the last reading of the log that stands.
pub(crate) fn withdraw_last(s: &mut State, model: &Model) {
    let Some(wing) = &model.wing else { return };
    let withdrawn = |seq: u64| {
        wing.entries.iter().any(|e| matches!(e.what, record::What::Withdrawn { seq: w, .. } if w == seq))
    };
    let last = wing.entries.iter().rev().find_map(|e| match &e.what {
        record::What::Reading(r) if !withdrawn(e.seq) => Some((e.seq, format!("{} {}", r.point, r.text))),
        _ => None,
    });
    match last {
        Some((seq, what)) => {
            s.dialog = Some(Dialog::Withdraw { seq, what, reason: String::new(), fresh: true })
        }
        None => s.hint = Some(hint("There is no reading to withdraw.")),
    }
}
