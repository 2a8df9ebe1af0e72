//! The whole invented wing, from the empty jig to the signed gate, in the window alone.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where something is missing")]
#![allow(clippy::disallowed_methods, reason = "a test has files")]

mod common;

use common::Bench;
use egui::{Event, Key};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use record::GateState;
use session::demo::{CASES, Step};
use window::Screen;

struct Person {
    w: Harness<'static, Bench>,
    said: Option<window::model::Notice>,
}

impl Person {
    fn types(&mut self, text: &str) {
        for c in text.chars() {
            self.w.event(Event::Text(c.to_string()));
        }
        self.w.run_steps(2);
    }

    fn press(&mut self, key: Key) {
        self.w.key_press(key);
        self.w.run_steps(2);
    }

    fn click(&mut self, label: &str) {
        self.w.get_by_label(label).click();
        self.w.run_steps(3);
    }

    fn fill(&mut self, label: &str, text: &str) {
        self.w.get_by_label(label).focus();
        self.w.run_steps(2);
        self.w.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
        self.w.run_steps(2);
        self.w.get_by_label(label).type_text(text);
        self.w.run_steps(2);
    }

    fn free(&mut self) {
        self.said = self.w.state_mut().model.notice.take();
        self.press(Key::Escape);
    }

    fn entries(&self) -> usize {
        self.w.state().wing().entries.len()
    }

    fn does(&mut self, step: &Step) {
        match step.action.as_str() {
            "stage" => {
                self.press(Key::F1);
                self.types("s");
                // The question finds its size and its place.
                self.w.run_steps(3);
                self.click(&format!("Begin {}", step.what));
            }
            "take" => self.takes(step),
            "move" => {
                self.press(Key::F7);
                self.fill("Support or foot", &step.what);
                self.fill("Moved by", &step.value);
                self.click("Record this move");
                self.w.state_mut().face.go(Screen::Measure);
            }
            "withdraw" => {
                self.press(Key::F1);
                self.free();
                self.press(Key::Backspace);
                self.types(&step.note);
                self.press(Key::Enter);
            }
            "open" => {
                self.press(Key::F8);
                self.fill("Leave open", &step.what);
                self.click("Add to what is left open");
            }
            "close" => {
                self.press(Key::F8);
                self.fill("Reason", &step.note);
                self.click(&format!("Close: {}", step.what));
            }
            other => panic!("a person has no step `{other}`"),
        }
        self.free();
    }

    fn takes(&mut self, step: &Step) {
        self.press(Key::F1);
        self.free();
        self.types("/");
        self.types(&step.what);
        self.press(Key::Enter);
        assert_eq!(self.w.state().face.point().map(ToString::to_string).as_ref(), Some(&step.what));
        let other = if step.facing == "aft" { "Facing forward  (R)" } else { "Facing aft  (R)" };
        if !step.facing.is_empty() && self.w.query_by_label(other).is_some() {
            self.types("r");
        }
        if !step.instrument.is_empty() {
            self.click(&step.instrument);
        }
        if !step.temperature.is_empty()
            && self.w.get_by_label("part at").value().unwrap_or_default() != step.temperature
        {
            self.fill("part at", &step.temperature);
            self.free();
        }
        self.types(&step.value);
        self.press(Key::Enter);
    }
}

fn steps() -> Vec<Step> {
    let mut steps = Vec::new();
    let log = std::env::temp_dir().join(format!("jigtrue-steps-{}.jigtrue", std::process::id()));
    let keep = &mut |_: &session::Session, step: Option<&Step>| {
        steps.extend(step.cloned());
        Ok(())
    };
    session::demo::play(&CASES[0], &log, keep).unwrap();
    for end in ["", "-wal", "-shm"] {
        let _ = std::fs::remove_file(format!("{}{end}", log.display()));
    }
    steps
}

#[test]
fn from_the_empty_jig_to_the_signed_gate() {
    let mut w = Bench::empty().harness(1280.0, 3400.0);
    w.run_steps(3);
    let mut person = Person { w, said: None };
    for step in steps() {
        let before = person.entries();
        person.does(&step);
        let said = (person.w.state().asked.last().cloned(), person.said.clone());
        assert_eq!(person.entries(), before + 1, "{step:?} was not done; asked {said:?}");
    }
    let gate = &person.w.state().wing().assessment.gate;
    assert_eq!(gate.state, GateState::Clear, "{:?}", gate.reasons);
    person.press(Key::F8);
    person.fill("As", "builder");
    person.fill("I state", "all required points seen and within");
    person.click("Sign it");
    let wing = person.w.state().wing();
    assert_eq!(wing.assessment.signatures.len(), 1);
    assert_eq!(wing.assessment.signatures[0].gate, GateState::Clear);
    // What was done by hand is what was played: the same profile.
    let played = Bench::whole("two-post");
    let (a, b) = (wing.assessment.twist.clone().unwrap(), played.wing().assessment.twist.clone().unwrap());
    assert_eq!(a.washout_error, b.washout_error);
    assert_eq!(a.stations, b.stations);
}
