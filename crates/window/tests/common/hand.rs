//! What a hand does in the window.

use super::Bench;
use egui::{Event, Key};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use record::{Facing, What};
use window::Screen;

/// The window in a harness.
pub type Window = Harness<'static, Bench>;

pub fn window(bench: Bench) -> Window {
    let mut w = bench.harness(1280.0, 800.0);
    w.run_steps(3);
    w
}

/// A window so tall that nothing need be scrolled to.
pub fn tall(bench: Bench) -> Window {
    let mut w = bench.harness(1280.0, 3000.0);
    w.run_steps(3);
    w
}

pub fn types(w: &mut Window, text: &str) {
    for c in text.chars() {
        w.event(Event::Text(c.to_string()));
        w.run_steps(2);
    }
}

pub fn press(w: &mut Window, key: Key) {
    w.key_press(key);
    w.run_steps(3);
}

pub fn go(w: &mut Window, screen: Screen) {
    w.state_mut().face.go(screen);
    w.run_steps(3);
}

pub fn readings(w: &Window) -> Vec<(String, f64, Option<Facing>)> {
    let entries = w.state().wing().entries.iter();
    let one = |e: &record::Entry| match &e.what {
        What::Reading(r) => Some((r.point.to_string(), r.value, r.facing)),
        _ => None,
    };
    entries.filter_map(one).collect()
}

pub fn choose(w: &mut Window, point: &str) {
    w.state_mut().face.choose(point.parse().unwrap());
    w.run_steps(2);
}

pub fn press_stage(w: &mut Window, name: &str) {
    types(w, "s");
    w.get_by_label(&format!("Begin {name}")).click();
    w.run_steps(3);
}
