//! The keyboard: letters are never commands, and Space takes only a settled value that is shown.

use crate::action::Action;
use crate::model::{Model, Wing};
use crate::pages::{FilesFor, Page, TypeFor, Typing, Words};
use crate::screens::{Screen, measure};
use crate::state::{Nav, State};
use egui::{Context, Event, Id, Key, Modifiers, Theme};

/// The scales offered.
pub(crate) const SCALES: [f32; 6] = [1.0, 1.25, 1.5, 2.0, 2.5, 3.0];

/// Every key and what it does, as the help shows it.
pub const HELP: [(&str, &str); 13] = [
    ("a letter", "find a point by its name"),
    ("a digit, + or \u{2212}", "type a reading (Measure)"),
    ("Space, foot switch", "take the settled value (Measure, Level)"),
    ("Enter", "the main button, except Take; on Level, start or record a move"),
    ("Esc", "back; changes nothing"),
    ("arrows, Page up, down", "station, row, page"),
    ("F1 to F8", "Measure, Level, Moves, Profile, Gate, Shape, History, Watch"),
    ("Ctrl+Z", "undo your last entry, with a reason"),
    ("Ctrl+R, T, N", "face the other way; type it; next wanted"),
    ("Ctrl+G, P", "stages; sheet"),
    ("Ctrl+O, W", "open a log; close it"),
    ("Ctrl+D, plus, minus", "dark or light; larger, smaller"),
    ("Ctrl+?", "these keys"),
];

fn main_flag() -> Id {
    Id::unique("the main button was asked for by Enter")
}

/// True once in a frame where Enter asks for the main button.
pub(crate) fn main_asked(ctx: &Context) -> bool {
    ctx.data_mut(|d| d.remove_temp::<bool>(main_flag()).is_some())
}

/// Takes the text typed in this frame out of the events.
pub(crate) fn typed(ctx: &Context) -> String {
    ctx.input_mut(|i| {
        let text = |e: &Event| match e {
            Event::Text(t) => Some(t.clone()),
            Event::Paste(t) => Some(t.lines().next().unwrap_or_default().to_owned()),
            _ => None,
        };
        let found = i.events.iter().filter_map(text).collect();
        i.events.retain(|e| !matches!(e, Event::Text(_) | Event::Paste(_)));
        found
    })
}

fn pressed(ctx: &Context, modifiers: Modifiers, key: Key) -> bool {
    ctx.input_mut(|i| i.consume_key(modifiers, key))
}

/// Reads the keys of this frame.
pub(crate) fn handle(ctx: &Context, s: &mut State, model: &Model, actions: &mut Vec<Action>) {
    s.nav = None;
    let (touched, keyed) = ctx.input(|i| {
        let keyed = i.events.iter().any(|e| matches!(e, Event::Text(_)));
        (i.pointer.any_pressed(), keyed)
    });
    if touched || keyed {
        s.keyboard_away = keyed;
    }
    looks(ctx, s);
    // A key or a pedal that is held down asks once.
    ctx.input_mut(|i| {
        let held = |e: &Event| matches!(e, Event::Key { key: Key::Enter | Key::Space, repeat: true, .. });
        i.events.retain(|e| !held(e));
    });
    // Space presses the button that has the focus; on Take that would record a reading that nobody looked at.
    let space = pressed(ctx, Modifiers::NONE, Key::Space);
    if model.import.is_some() {
        return;
    }
    enter(ctx);
    s.nav = nav(ctx);
    if let Some(page) = s.pages.last() {
        let esc = pressed(ctx, Modifiers::NONE, Key::Escape);
        if esc {
            match page {
                Page::Cautions => actions.push(Action::CautionsRead),
                // The question itself is dropped, not only its page.
                Page::Ask(_) if s.asking => actions.push(Action::DropAsked),
                _ => {}
            }
            s.close();
        }
        return;
    }
    anywhere(ctx, s, model, actions);
    let Some(wing) = &model.wing else { return };
    of_a_log(ctx, s, model, wing, actions);
    if !s.pages.is_empty() {
        return;
    }
    if space && matches!(s.screen, Screen::Measure | Screen::Level) {
        measure::take_settled(s, wing, actions);
    }
    let text = typed(ctx);
    let Some(first) = text.chars().next() else { return };
    if first.is_alphabetic() {
        s.pages.push(Page::Find { text: first.to_string(), from: 0 });
    } else if (first.is_ascii_digit() || matches!(first, '+' | '-' | '\u{2212}' | '.'))
        && s.screen == Screen::Measure
        && let Some(point) = s.measuring.point.clone()
        && !wing.read_only
    {
        s.pages.push(Page::Keypad(Typing::new(TypeFor::Reading(point), &text)));
    }
}

/// Enter goes to what has the focus, otherwise to the main button; never to Take.
fn enter(ctx: &Context) {
    let focused = ctx.memory(egui::Memory::focused).is_some();
    if !focused && pressed(ctx, Modifiers::NONE, Key::Enter) {
        ctx.data_mut(|d| d.insert_temp(main_flag(), true));
    }
}

fn ctrl(ctx: &Context, key: Key) -> bool {
    pressed(ctx, Modifiers::CTRL, key)
}

fn nav(ctx: &Context) -> Option<Nav> {
    let keys = [
        (Key::ArrowLeft, Nav::Left),
        (Key::ArrowRight, Nav::Right),
        (Key::ArrowUp, Nav::Up),
        (Key::ArrowDown, Nav::Down),
        (Key::PageUp, Nav::PageUp),
        (Key::PageDown, Nav::PageDown),
    ];
    keys.into_iter().find(|(key, _)| pressed(ctx, Modifiers::NONE, *key)).map(|(_, nav)| nav)
}

fn looks(ctx: &Context, s: &mut State) {
    let bigger = ctrl(ctx, Key::Plus) || ctrl(ctx, Key::Equals);
    let smaller = ctrl(ctx, Key::Minus);
    if bigger || smaller {
        s.rescale(if bigger { Zoom::Larger } else { Zoom::Smaller });
    }
    if ctrl(ctx, Key::D) {
        s.other_theme(ctx.theme());
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zoom {
    Larger,
    Smaller,
}

impl State {
    /// The next scale up or down.
    pub fn rescale(&mut self, to: Zoom) {
        let now = self.looks.scale;
        let larger = SCALES.iter().copied().find(|x| *x > now + 0.01);
        let smaller = SCALES.iter().rev().copied().find(|x| *x < now - 0.01);
        let next = match to {
            Zoom::Larger => larger,
            Zoom::Smaller => smaller,
        };
        self.looks.scale = next.unwrap_or(now);
    }

    /// Light where it is dark, and the other way.
    pub fn other_theme(&mut self, now: Theme) {
        self.looks.theme = Some(if now == Theme::Dark { Theme::Light } else { Theme::Dark });
    }
}

fn anywhere(ctx: &Context, s: &mut State, model: &Model, actions: &mut Vec<Action>) {
    let help = [Key::Questionmark, Key::Slash];
    if help.into_iter().any(|k| ctrl(ctx, k) || pressed(ctx, Modifiers::CTRL | Modifiers::SHIFT, k)) {
        s.open(Page::Keys);
    }
    if ctrl(ctx, Key::O) {
        actions.push(Action::ListFolder { path: String::new(), files: FilesFor::Log.files() });
        s.open(Page::Files { to: FilesFor::Log, at: 0 });
    }
    if model.notice.is_some() && pressed(ctx, Modifiers::NONE, Key::Escape) {
        actions.push(Action::DismissNotice);
    }
    if model.who.name.is_empty() && s.screen == Screen::Start && ctx.input(|i| !i.events.is_empty()) {
        let text = typed(ctx);
        if text.chars().next().is_some_and(char::is_alphabetic) {
            s.pages.push(Page::Letters(Words::name(&text)));
        }
    }
}

fn of_a_log(ctx: &Context, s: &mut State, model: &Model, wing: &Wing, actions: &mut Vec<Action>) {
    for (screen, key) in Screen::KEYED {
        if pressed(ctx, Modifiers::NONE, key) {
            s.go(screen);
        }
    }
    if ctrl(ctx, Key::W) {
        actions.push(Action::CloseLog);
    }
    if ctrl(ctx, Key::Z) {
        crate::screens::undo(s, model);
    }
    if ctrl(ctx, Key::G) {
        s.open(Page::Stages { at: crate::reads::stage::next(wing) });
    }
    if ctrl(ctx, Key::P) {
        actions.push(Action::WriteSheet);
    }
    let mut leaves = false;
    let turning = s.moving.told.as_ref().map(|told| told.tilt.is_some());
    if (s.screen == Screen::Level || turning == Some(false)) && pressed(ctx, Modifiers::NONE, Key::Escape) {
        s.screen = if s.screen == Screen::Level { Screen::Measure } else { Screen::Moves };
        leaves = true;
    }
    leaves |= match turning {
        Some(true) => s.screen != Screen::Level,
        Some(false) => s.screen != Screen::Moves,
        None => false,
    };
    if leaves {
        s.moving.told = None;
        actions.push(Action::Bench(bench::Key::LeaveLevel));
    }
    let reads = matches!(s.screen, Screen::Measure | Screen::Level);
    if (reads || turning == Some(false)) && ctrl(ctx, Key::R) {
        measure::turn(s, wing);
    }
    if reads {
        if ctrl(ctx, Key::T)
            && let Some(point) = s.measuring.point.clone()
        {
            s.number(TypeFor::Reading(point));
        }
        if ctrl(ctx, Key::N) {
            measure::next(s);
        }
    }
}
