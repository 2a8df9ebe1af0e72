//! The whole window over a real log, worked by touch: buttons are found by their accessible names.

use super::{Desk, Work, harness};
use eframe::egui;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use window::Face;

/// The window on a small panel.
pub struct Touched {
    pub w: Harness<'static, Work>,
}

impl Touched {
    pub fn new(desk: Desk) -> Self {
        let mut face = Face::new();
        face.set_looks(desk.looks());
        let w = harness((800.0, 480.0), Work { desk, face }, |ui, work| {
            work.desk.keep_up();
            work.show(ui);
            let looks = work.face.looks();
            work.desk.keep_looks(looks);
        });
        let mut touched = Self { w };
        touched.looks();
        touched
    }

    pub fn looks(&mut self) {
        self.w.run_steps(3);
    }

    pub fn labels(&self) -> Vec<String> {
        let all = self.w.root().children_recursive();
        all.filter_map(|n| n.accesskit_node().value().or_else(|| n.accesskit_node().label())).collect()
    }

    pub fn said(&self) -> String {
        self.labels().join("\n")
    }

    pub fn says(&self, words: &str) {
        assert!(self.said().contains(words), "`{words}` is not said:\n{}", self.said());
    }

    /// The full name of a button that is there and on: this text, or this text with a second line.
    fn button(&self, name: &str) -> Option<String> {
        let buttons = self.w.root().children_recursive().filter_map(|n| {
            let at = n.accesskit_node();
            (at.role() == egui::accesskit::Role::Button && !at.is_disabled()).then(|| at.label()).flatten()
        });
        let all: Vec<String> = buttons.collect();
        let exactly = all.iter().find(|b| *b == name);
        exactly.or_else(|| all.iter().find(|b| b.starts_with(&format!("{name}: ")))).cloned()
    }

    pub fn is_on(&self, name: &str) -> bool {
        self.button(name).is_some()
    }

    pub fn taps(&mut self, name: &str) {
        let Some(whole) = self.button(name) else {
            panic!("`{name}` is not there or off:\n{}", self.said());
        };
        self.w.get_by_role_and_label(egui::accesskit::Role::Button, &whole).click();
        // Time for a person to read a question that then appears.
        self.w.run_steps(5);
    }

    /// Taps the letters of a text.
    pub fn types(&mut self, text: &str) {
        for c in text.chars() {
            let key = match c {
                '-' if self.is_on("\u{2212}") => "\u{2212}".to_owned(),
                ' ' => "space".to_owned(),
                c => c.to_string(),
            };
            // Capitals find a point; elsewhere the shift key is tapped.
            let capital = key.to_uppercase();
            match (self.is_on(&key), self.is_on(&capital) && self.said().contains("find: ")) {
                (true, _) => self.taps(&key),
                (false, true) => self.taps(&capital),
                (false, false) => {
                    self.taps("Capital");
                    self.taps(&key);
                }
            }
        }
    }

    /// Finds a point by letters of its name and goes there.
    pub fn goes_to(&mut self, point: &str) {
        self.taps("Measure");
        // When everything is measured there is a summary; then the history finds a point.
        let find = self.labels().into_iter().find(|l| l.starts_with("Find another point than"));
        match &find {
            Some(find) => self.taps(find),
            None => {
                self.taps("More");
                self.taps("History");
                self.taps("Find");
            }
        }
        let place = point.split_once('@').unwrap().1;
        self.types(place);
        let name = format!("Go to {point}");
        for _ in 0..20 {
            if self.is_on(&name) {
                break;
            }
            self.taps("More points");
        }
        self.taps(&name);
        if find.is_none() {
            self.taps("Measure it again");
        }
    }

    pub fn log(&self) -> &window::model::Wing {
        self.w.state().desk.model().wing.as_ref().unwrap()
    }
}
