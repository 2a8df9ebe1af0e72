//! The whole window with a level whose values are played.

use super::touched::Touched;
use super::{Desk, desk};
use bench::{Came, PortEvent};
use eframe::egui::{self, Event, Key, Modifiers, PointerButton};
use egui_kittest::kittest::Queryable as _;
use instrument::{Axis, Decimal, Sample, Unit};
use record::{At, What};
use session::gauges::Connected;
use std::path::Path;
use stories::jig::LEVEL;
use window::Action;

const EVERY_MS: u64 = 50;

/// The whole window with a played level on a post.
pub struct Played {
    pub t: Touched,
    now_ms: u64,
    /// How far the calendar was moved from where it was.
    pub stepped_ms: i64,
    pub folder: tempfile::TempDir,
}

impl Played {
    pub fn new(plan: &str, stage: &str) -> Self {
        Self::with(plan, stage, LEVEL)
    }

    /// The same with another instrument's file.
    pub fn with(plan: &str, stage: &str, level: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let desk = with_level(folder.path(), plan, stage, level);
        Self { t: Touched::new(desk), now_ms: 0, stepped_ms: 0, folder }
    }

    /// Holds the level still at this many hundredths of a degree until it has settled.
    pub fn holds(&mut self, hundredths: i64) {
        self.sends(60, |_| hundredths);
        self.t.looks();
    }

    /// Sends values a twentieth of a second apart, in hundredths of a degree.
    pub fn sends(&mut self, count: u32, of: impl Fn(u32) -> i64) {
        for n in 0..count {
            let at_ms = self.passes(EVERY_MS);
            let value = Decimal { mantissa: of(n), exponent: -2 };
            let sample = Sample::bare(Axis::Angle, value, Unit::Degree);
            self.comes(&PortEvent { at_ms, what: Came::Sample(sample) });
        }
    }

    /// Lets time pass on the bench's clock and on the calendar; returns the bench's.
    pub fn passes(&mut self, ms: u64) -> u64 {
        self.now_ms += ms;
        let at = At::from_millis(1_900_000_000_000 + self.stepped_ms + i64::try_from(self.now_ms).unwrap());
        self.t.w.state_mut().desk.play_at(self.now_ms, at);
        self.now_ms
    }

    pub fn comes(&mut self, event: &PortEvent) {
        self.t.w.state_mut().desk.play_event(event);
    }

    pub fn log(&self) -> std::path::PathBuf {
        self.folder.path().join("wing.jigtrue")
    }

    pub fn readings(&self) -> usize {
        self.t.log().entries.iter().filter(|e| matches!(e.what, What::Reading(_))).count()
    }

    /// Two quick taps of a finger, where the button is.
    pub fn taps_twice(&mut self, name: &str) {
        let pos = self.t.w.get_by_role_and_label(egui::accesskit::Role::Button, name).rect().center();
        for pressed in [true, false, true, false] {
            let modifiers = Modifiers::NONE;
            self.t.w.event(Event::PointerMoved(pos));
            self.t.w.event(Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers });
            self.t.w.step();
        }
        // And one that came down at the moment the question appeared.
        for pressed in [true, false] {
            let modifiers = Modifiers::NONE;
            self.t.w.event(Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers });
        }
        self.t.w.step();
        self.t.w.event(Event::PointerGone);
        self.t.looks();
    }

    pub fn presses(&mut self, key: Key) {
        self.t.w.key_press(key);
        self.t.looks();
    }
}

/// A desk with a new log in that folder, its stage begun, and the level of that file on a played port.
pub fn with_level(folder: &Path, plan: &str, stage: &str, level: &str) -> Desk {
    let path = |name: &str| folder.join(name);
    std::fs::write(path("plan.toml"), plan).unwrap();
    std::fs::write(path("level.toml"), level).unwrap();
    let log = path("wing.jigtrue");
    let mut session = session::Session::create(&path("plan.toml"), &log, Some("tam")).unwrap();
    session.stage(&session::BeginStage::named(stage)).unwrap();
    let device = Connected::read(&path("level.toml")).unwrap();
    session.add_instrument(device.facts.clone()).unwrap();
    drop(session);
    let mut desk = desk();
    let who = window::model::Person { name: "tam".to_owned(), ..Default::default() };
    desk.act(Action::SetWho(who));
    desk.act(Action::CautionsRead);
    desk.open(&log);
    desk.play(device);
    desk
}
