//! Which port, and which instrument is on it.

use super::{Page, Words, WordsFor, change};
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::text::{row, say};
use crate::screens::Cx;
use egui::{Align, Rect, Ui, pos2, vec2};

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, port: &str, instrument: &str, from: usize) {
    crate::keys::typed(ui.ctx());
    let x = cx.g.whole();
    crate::screens::title(ui, cx, x, "Port and instrument", ["", ""]);
    let middle = cx.g.middle(x);
    let gap = cx.g.gap();
    let half = (middle.width() - gap) / 2.0;
    let columns = [
        Rect::from_min_size(middle.min, vec2(half, middle.height())),
        Rect::from_min_size(pos2(middle.left() + half + gap, middle.top()), vec2(half, middle.height())),
    ];
    let ports = with(&cx.model.ports, port);
    let gauges = with(&cx.model.gauges, instrument);
    let (mut port, mut instrument) = (port.to_owned(), instrument.to_owned());
    // The list of ports comes a frame after the page. The last port opened stands first, and is meant unless another
    // is chosen.
    if let (true, Some(first)) = (port.is_empty(), ports.first()) {
        port.clone_from(first);
    }
    let list = Column { key: "Port", title: "Port", names: &ports, chosen: &port, other: "Another port" };
    match list.show(ui, cx, columns[0], from) {
        Some(Choice::Name(name)) => port = name,
        Some(Choice::Other) => {
            return cx.s.open(Page::Letters(Words::new(WordsFor::Port, unlisted(&cx.model.ports, &port))));
        }
        None => {}
    }
    let list = Column {
        key: "Instrument",
        title: "Instrument on it",
        names: &gauges,
        chosen: &instrument,
        other: "Another instrument",
    };
    match list.show(ui, cx, columns[1], from) {
        Some(Choice::Name(name)) => instrument = name,
        Some(Choice::Other) => {
            return cx
                .s
                .open(Page::Letters(Words::new(WordsFor::Gauge, unlisted(&cx.model.gauges, &instrument))));
        }
        None => {}
    }
    let more = ports.len().max(gauges.len()) > PER;
    let [back, look, close, open] = cx.g.split(cx.g.buttons(x), gap, [1.0, 1.0, 1.0, 2.0]);
    let size = cx.g.pick(22.0, 28.0);
    if Button::new(back, "Back", size).show(ui) {
        return cx.s.close();
    }
    let mut from = from;
    let (text, none) = if more { ("More", None) } else { ("Look again", None) };
    if Button::new(look, text, size).unless(none).show(ui) {
        cx.ask(Action::ListPorts);
        from = if more && from + PER < ports.len().max(gauges.len()) { from + PER } else { 0 };
    }
    let is_open = cx.model.wing.as_ref().is_some_and(|w| w.live.port_name().is_some());
    if Button::new(close, "Close port", size).unless((!is_open).then_some("none is open")).show(ui) {
        cx.ask(Action::ClosePort);
        return cx.s.close();
    }
    let why = if port.is_empty() {
        Some("choose a port")
    } else if instrument.is_empty() {
        Some("choose the instrument")
    } else {
        None
    };
    if Button::new(open, "Open the port", cx.g.pick(28.0, 36.0)).main().unless(why).show(ui) {
        cx.s.close();
        cx.ask(Action::DismissNotice);
        cx.ask(Action::OpenPort { port, instrument });
        return;
    }
    change(cx, Page::Port { port, instrument, from });
}

/// Names shown of each list.
const PER: usize = 3;

/// The known names, and the typed one if it is not among them.
fn with(names: &[String], typed: &str) -> Vec<String> {
    let mut all = names.to_vec();
    if !typed.is_empty() && !all.iter().any(|n| n == typed) {
        all.insert(0, typed.to_owned());
    }
    all
}

/// What was typed, to go on typing; another than a listed one begins empty.
fn unlisted<'t>(names: &[String], chosen: &'t str) -> &'t str {
    if names.iter().any(|n| n == chosen) { "" } else { chosen }
}

enum Choice {
    Name(String),
    Other,
}

struct Column<'a> {
    key: &'a str,
    title: &'a str,
    names: &'a [String],
    chosen: &'a str,
    other: &'a str,
}

impl Column<'_> {
    fn show(&self, ui: &Ui, cx: &Cx<'_>, rect: Rect, from: usize) -> Option<Choice> {
        let head = row(rect.left(), rect.right(), rect.top() + 14.0, 20.0);
        say(ui, head, Align::Min, cx.note(20.0, 24.0), self.key, self.title);
        let high = (rect.height() - 36.0 - 8.0 * 3.0) / 4.0;
        let cell = |n: usize| {
            let top = rect.top() + 36.0 + n as f32 * (high + 8.0);
            Rect::from_min_size(pos2(rect.left(), top), vec2(rect.width(), high))
        };
        let size = cx.g.pick(22.0, 28.0);
        let from = if from < self.names.len() { from } else { 0 };
        let mut choice = None;
        for (n, name) in self.names.iter().skip(from).take(PER).enumerate() {
            let named = format!("{} {name}", self.key);
            if Button::new(cell(n), name, size).chosen_if(name == self.chosen).named(&named).show(ui) {
                choice = Some(Choice::Name(name.clone()));
            }
        }
        if self.names.is_empty() {
            let text = "None found.";
            say(ui, cell(0), Align::Min, cx.note(20.0, 24.0), self.other, text);
        }
        if Button::new(cell(PER), "Another", size).second("type its name").named(self.other).show(ui) {
            choice = Some(Choice::Other);
        }
        choice
    }
}
