//! Problems outside the window are told in it: disks, logs, tables, ports.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where something is missing")]
#![allow(clippy::disallowed_methods, reason = "these stories have files, threads and a clock")]

mod anything;
mod asked;
mod disks;
mod gone;
mod jig;
mod paper;
mod played;
#[cfg(unix)]
mod ports;
mod rigged;
mod tables;
mod thing;
mod tone;
mod touched;

use super::desk::Desk;
use super::keep::Keep;
use eframe::egui;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use window::{Action, Face};

/// The desk under a window.
struct Work {
    desk: Desk,
    face: Face,
}

impl Work {
    /// One frame.
    fn show(&mut self, ui: &mut egui::Ui) {
        for action in self.face.show(ui, self.desk.model()) {
            self.desk.act(action);
        }
    }
}

/// Letters are not fitted to pixels, which takes a third of a window's time and moves nothing.
fn unfitted(ctx: &egui::Context) {
    if ctx.style_of(egui::Theme::Light).visuals.text_options.font_hinting {
        ctx.all_styles_mut(|style| style.visuals.text_options.font_hinting = false);
    }
}

/// A window of that size over the desk.
fn harness(
    (width, height): (f32, f32),
    work: Work,
    frame: impl Fn(&mut egui::Ui, &mut Work) + 'static,
) -> Harness<'static, Work> {
    Harness::builder()
        .with_size(egui::vec2(width, height))
        .with_max_steps(12)
        .with_context_setup(unfitted)
        .build_ui_state(
            move |ui, work: &mut Work| {
                frame(ui, work);
                // The window has set its own look.
                unfitted(ui.ctx());
            },
            work,
        )
}

fn desk() -> Desk {
    Desk::keeping(egui::Context::default(), Keep::default())
}

fn plan(folder: &Path) -> PathBuf {
    let plan = folder.join("plan.toml");
    std::fs::write(&plan, session::demo::CASES[0].plan).unwrap();
    plan
}

/// A desk with a new log open in that folder, and the log.
fn opened(folder: &Path) -> (Desk, PathBuf) {
    let log = folder.join("wing.jigtrue");
    drop(session::Session::create(&plan(folder), &log, Some("builder")).unwrap());
    let mut desk = desk();
    desk.act(Action::SetWho(window::model::Person { name: "builder".to_owned(), ..Default::default() }));
    desk.open(&log);
    assert!(desk.model().wing.is_some(), "{:?}", desk.model().notice);
    (desk, log)
}

fn typed(point: &str, text: &str) -> Action {
    Action::Take {
        point: point.parse().unwrap(),
        text: text.to_owned(),
        facing: None,
        instrument: None,
        temperature: None,
        new_round: false,
        sure: bench::Sure::Unsaid,
    }
}

/// Runs the desk until the condition holds; the 60 s are for a busy machine.
fn until(desk: &mut Desk, what: &str, is_so: impl Fn(&Desk) -> bool) {
    let began = Instant::now();
    while !is_so(desk) {
        assert!(began.elapsed() < Duration::from_secs(60), "never came: {what}; {:?}", desk.model().notice);
        std::thread::sleep(Duration::from_millis(15));
        desk.keep_up();
    }
}

/// The sentence shown in the window, which must report a problem.
fn sentence(desk: Desk) -> (Desk, String) {
    let notice = desk.model().notice.clone().unwrap();
    assert!(notice.wrong, "{notice:?}");
    let mut w = harness((1280.0, 800.0), Work { desk, face: Face::new() }, |ui, work| work.show(ui));
    w.run_steps(3);
    // The cautions come first; the sentence waits behind them.
    if w.state().desk.model().cautions_due {
        w.get_by_label("I have read this").click();
        w.run_steps(3);
    }
    w.get_by_label(&notice.words);
    let desk = std::mem::replace(&mut w.state_mut().desk, self::desk());
    (desk, notice.words)
}
