//! What a hand does in the window: it taps and presses at places found by their accessible names.

use super::Bench;
use egui::{Event, Key, Modifiers, PointerButton, Pos2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use record::{Facing, What};

/// The window in a harness.
pub type Window = Harness<'static, Bench>;

/// The window on a small panel.
pub fn small(bench: Bench) -> Window {
    sized(bench, 800.0, 480.0)
}

/// The window at a size.
pub fn sized(bench: Bench, width: f32, height: f32) -> Window {
    let mut w = bench.harness(width, height);
    w.run_steps(3);
    w
}

/// All buttons: name, place, and whether it is on.
pub fn buttons(w: &Window) -> Vec<(String, egui::Rect, bool)> {
    let mut out = Vec::new();
    for node in w.root().children_recursive() {
        let at = node.accesskit_node();
        if at.role() == egui::accesskit::Role::Button {
            out.push((at.label().unwrap_or_default(), node.rect(), !at.is_disabled()));
        }
    }
    out
}

fn find(w: &Window, name: &str) -> Pos2 {
    let all = buttons(w);
    let named = |b: &&(String, egui::Rect, bool)| {
        b.0 == name || b.0.strip_prefix(name).is_some_and(|r| r.starts_with(": "))
    };
    match all.iter().find(named) {
        Some((_, rect, true)) => rect.center(),
        Some((_, _, false)) => panic!("`{name}` is off"),
        None => panic!("there is no `{name}`; there are {:?}", all.iter().map(|b| &b.0).collect::<Vec<_>>()),
    }
}

/// True if a button of that name is there and on.
pub fn is_on(w: &Window, name: &str) -> bool {
    buttons(w).iter().any(|b| (b.0 == name || b.0.starts_with(&format!("{name}: "))) && b.2)
}

/// Taps a button, as a finger does.
pub fn tap(w: &mut Window, name: &str) {
    let pos = find(w, name);
    w.event(Event::PointerMoved(pos));
    for pressed in [true, false] {
        w.event(Event::PointerButton {
            pos,
            button: PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        });
        w.step();
    }
    w.event(Event::PointerGone);
    // Time for a person to read a question that then appears.
    w.run_steps(4);
}

/// Taps the letters of a text on the keyboard of the screen.
pub fn tap_text(w: &mut Window, text: &str) {
    for c in text.chars() {
        let on_screen = buttons(w).iter().any(|b| b.0 == c.to_string());
        if !on_screen {
            tap(w, "Capital");
        }
        tap(w, &c.to_string());
    }
}

/// Types a text on a real keyboard.
pub fn types(w: &mut Window, text: &str) {
    for c in text.chars() {
        if c == ' ' {
            w.key_press(Key::Space);
        }
        w.event(Event::Text(c.to_string()));
        w.run_steps(2);
    }
}

/// Presses a key.
pub fn press(w: &mut Window, key: Key) {
    w.key_press(key);
    w.run_steps(2);
}

/// Presses a key with Ctrl.
pub fn ctrl(w: &mut Window, key: Key) {
    w.key_press_modifiers(Modifiers::CTRL, key);
    w.run_steps(2);
}

/// Waits as long as a person needs to read a question.
pub fn reads(w: &mut Window) {
    w.run_steps(3);
}

/// Everything said on the screen.
pub fn said(w: &Window) -> String {
    let all = w.root().children_recursive();
    let labels: Vec<String> =
        all.filter_map(|n| n.accesskit_node().value().or_else(|| n.accesskit_node().label())).collect();
    labels.join("\n")
}

/// Fails if the window does not say this.
pub fn says(w: &Window, text: &str) {
    let all = said(w);
    assert!(all.contains(text), "`{text}` is not said:\n{all}");
}

/// The readings of the log.
pub fn readings(w: &Window) -> Vec<(String, f64, Option<Facing>)> {
    let entries = w.state().wing().entries.iter();
    let one = |e: &record::Entry| match &e.what {
        What::Reading(r) => Some((r.point.to_string(), r.value, r.facing)),
        _ => None,
    };
    entries.filter_map(one).collect()
}

/// Entries of the log.
pub fn entries(w: &Window) -> usize {
    w.state().model.wing.as_ref().map_or(0, |w| w.entries.len())
}

/// The text of the field being typed in.
pub fn field(w: &Window) -> String {
    let all = said(w);
    let typed = all.lines().find_map(|l| l.strip_prefix("typed: ").or_else(|| l.strip_prefix("find: ")));
    typed.unwrap_or_default().to_owned()
}

/// True if the label is there.
pub fn has(w: &Window, label: &str) -> bool {
    w.query_by_label(label).is_some()
}
