//! Buttons: the whole rectangle can be pressed, and a button that is off says why.

mod read;

use super::shape::{dashed, frame};
use super::text::{Hand, put};
use crate::theme::palette;
use egui::{Align, Id, Rect, Response, Role, Sense, Stroke, Ui, WidgetInfo, vec2};
use std::fmt::Debug;
use std::hash::Hash;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// The one to press next, at the right end of its row.
    Main,
    Plain,
    Chosen,
}

#[derive(Clone, Copy, Debug)]
pub struct Button<'a> {
    pub rect: Rect,
    pub text: &'a str,
    /// A second line; on a button that is off, the reason.
    pub second: &'a str,
    pub look: Look,
    /// True if it can be pressed.
    pub on: bool,
    pub size: f32,
    /// Its name for screen readers and tests; empty to use its text.
    pub name: &'a str,
    /// Separates it from others of the same name, such as rows of a list.
    pub nth: usize,
    /// The question it answers; `None` if it is not an answer.
    pub question: Option<Id>,
    /// True if Enter presses it although it is not the main button.
    pub by_enter: bool,
}

impl<'a> Button<'a> {
    pub const fn new(rect: Rect, text: &'a str, size: f32) -> Self {
        Self {
            rect,
            text,
            second: "",
            look: Look::Plain,
            on: true,
            size,
            name: "",
            nth: 0,
            question: None,
            by_enter: false,
        }
    }

    pub const fn second(self, second: &'a str) -> Self {
        Self { second, ..self }
    }

    pub const fn main(self) -> Self {
        Self { look: Look::Main, ..self }
    }

    /// The one that is chosen, if any.
    pub const fn chosen_if(self, chosen: bool) -> Self {
        Self { look: if chosen { Look::Chosen } else { Look::Plain }, ..self }
    }

    /// Off for a reason, or on.
    pub const fn unless(self, why: Option<&'a str>) -> Self {
        match why {
            Some(why) => Self { on: false, second: why, ..self },
            None => self,
        }
    }

    pub const fn named(self, name: &'a str) -> Self {
        Self { name, ..self }
    }

    pub const fn nth(self, nth: usize) -> Self {
        Self { nth, ..self }
    }

    /// Makes it the answer to a question: a press that came before this very question could be read answers nothing.
    pub fn answering(self, question: impl Hash + Debug) -> Self {
        Self { question: Some(Id::unique(question)), ..self }
    }

    /// Enter presses it: beside Take, which Enter never presses.
    pub const fn by_enter(self) -> Self {
        Self { by_enter: true, ..self }
    }

    /// Draws it; true if it was pressed.
    pub fn show(self, ui: &Ui) -> bool {
        self.paint(ui);
        let main = (self.look == Look::Main || self.by_enter) && self.on && self.text != "Take";
        let response = self.target(ui);
        let read = self.question.is_none_or(|question| read::before_pressed(ui, question, &response));
        let pressed = response.clicked() || (main && crate::keys::main_asked(ui.ctx()));
        pressed && read
    }

    /// Only the area to press, for a button that is drawn otherwise.
    pub fn target(self, ui: &Ui) -> Response {
        let name = if self.name.is_empty() { self.text } else { self.name };
        let sense = if self.on { Sense::click() } else { Sense::hover() };
        let response = ui.interact(self.rect, Id::unique(("button", name, self.nth)), sense);
        response.widget_info(|| match self.look {
            Look::Chosen => WidgetInfo::selected(Role::Button, self.on, true, name),
            _ => WidgetInfo::labeled(Role::Button, self.on, name),
        });
        if response.has_focus() {
            // In ink and apart from the frame: what is chosen, and the main button, have the colour of a control. At
            // the edge of the window it moves inward.
            let around = self.rect.expand(4.5).intersect(ui.ctx().content_rect().shrink(1.5));
            let line = Stroke::new(3.0, palette(ui).ink);
            frame(ui.painter(), around, egui::Color32::TRANSPARENT, line);
        }
        response
    }

    fn paint(self, ui: &Ui) {
        let p = palette(ui);
        let painter = ui.painter();
        self.face(ui);
        let ink = match (self.on, self.look) {
            (false, _) => p.pale,
            (true, Look::Main) => p.on_control,
            (true, _) => p.ink,
        };
        let inner = self.rect.shrink2(vec2(7.0, 4.0));
        let first = Hand::heavy(self.size, ink).least(15.0);
        if self.second.is_empty() {
            put(painter, inner, Align::Center, first, self.text);
            return;
        }
        let note = (self.size * 0.72).clamp(15.0, 20.0);
        let middle = inner.center().y;
        let line =
            |y: f32| Rect::from_center_size(egui::pos2(inner.center().x, y), vec2(inner.width(), 10.0));
        let below = if self.on && self.look == Look::Main { p.on_control } else { p.pale };
        let apart = self.size * 0.35 + note * 0.35 + 9.0;
        put(painter, line(middle - apart * 0.42), Align::Center, first, self.text);
        put(painter, line(middle + apart * 0.58), Align::Center, Hand::medium(note, below), self.second);
    }

    /// Only its frame and background.
    pub fn face(self, ui: &Ui) {
        let p = palette(ui);
        let painter = ui.painter();
        match (self.on, self.look) {
            (false, _) => dashed(painter, self.rect, Stroke::new(1.5, p.edge)),
            (true, Look::Main) => frame(painter, self.rect, p.control, Stroke::NONE),
            (true, Look::Plain) => frame(painter, self.rect, p.sheet, Stroke::new(1.5, p.edge)),
            (true, Look::Chosen) => frame(painter, self.rect, p.soft, Stroke::new(3.0, p.control)),
        }
    }
}
