//! Which port, and which instrument is on it.

use super::{Page, WordsFor, change};
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::text::{row, say};
use crate::screens::Cx;
use egui::{Align, Rect, Ui};

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, port: &str, instrument: &str, from: usize) {
    let x = cx.g.whole();
    crate::screens::title(ui, cx, x, "Port and instrument", ["", ""]);
    let middle = cx.g.middle(x);
    let gap = cx.g.gap();
    let (mut port, mut instrument) = (port.to_owned(), instrument.to_owned());
    // The list of ports comes a frame after the page. The last port opened stands first, and is meant unless another
    // is chosen.
    if let (true, Some(first)) = (port.is_empty(), cx.model.ports.first()) {
        port.clone_from(first);
    }
    let columns = [
        (Column { key: "Port", title: "Port", known: &cx.model.ports }, &mut port, WordsFor::Port),
        (
            Column { key: "Instrument", title: "Instrument on it", known: &cx.model.gauges },
            &mut instrument,
            WordsFor::Gauge,
        ),
    ];
    let mut longest = 0;
    for (rect, (column, chosen, other)) in cx.g.split(middle, gap, [1.0, 1.0]).into_iter().zip(columns) {
        let names = column.with(chosen);
        longest = longest.max(names.len());
        match column.show(ui, cx, rect, &names, chosen, from) {
            Some(Choice::Name(name)) => *chosen = name,
            Some(Choice::Other) => return cx.s.write(other, column.unlisted(chosen)),
            None => {}
        }
    }
    let more = longest > PER;
    let [back, look, close, open] = cx.g.split(cx.g.buttons(x), gap, [1.0, 1.0, 1.0, 2.0]);
    let size = cx.g.pick(22.0, 28.0);
    if Button::new(back, "Back", size).show(ui) {
        return cx.s.close();
    }
    let mut from = from;
    if Button::new(look, if more { "More" } else { "Look again" }, size).show(ui) {
        cx.ask(Action::ListPorts);
        from = if from + PER < longest { from + PER } else { 0 };
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
        return cx.ask_anew(Action::OpenPort { port, instrument });
    }
    change(cx, Page::Port { port, instrument, from });
}

/// Names shown of each list.
const PER: usize = 3;

enum Choice {
    Name(String),
    Other,
}

struct Column<'a> {
    key: &'a str,
    title: &'a str,
    known: &'a [String],
}

impl Column<'_> {
    /// The known names, and the typed one if it is not among them.
    fn with(&self, typed: &str) -> Vec<String> {
        let unlisted = Some(self.unlisted(typed).to_owned()).filter(|name| !name.is_empty());
        unlisted.into_iter().chain(self.known.iter().cloned()).collect()
    }

    /// What was typed, to go on typing; another than a listed one begins empty.
    fn unlisted<'t>(&self, chosen: &'t str) -> &'t str {
        if self.known.iter().any(|n| n == chosen) { "" } else { chosen }
    }

    fn show(
        &self,
        ui: &Ui,
        cx: &Cx<'_>,
        rect: Rect,
        names: &[String],
        chosen: &str,
        from: usize,
    ) -> Option<Choice> {
        let other = format!("Another {}", self.key.to_lowercase());
        let head = row(rect.left(), rect.right(), rect.top() + 14.0, 20.0);
        say(ui, head, Align::Min, cx.note(20.0, 24.0), self.key, self.title);
        let cell = crate::grid::table(rect.with_min_y(rect.top() + 36.0), 1, PER + 1, 8.0);
        let size = cx.g.pick(22.0, 28.0);
        let from = if from < names.len() { from } else { 0 };
        let mut choice = None;
        for (n, name) in names.iter().skip(from).take(PER).enumerate() {
            let named = format!("{} {name}", self.key);
            if Button::new(cell(n), name, size).chosen_if(name == chosen).named(&named).show(ui) {
                choice = Some(Choice::Name(name.clone()));
            }
        }
        if names.is_empty() {
            say(ui, cell(0), Align::Min, cx.note(20.0, 24.0), &other, "None found.");
        }
        if Button::new(cell(PER), "Another", size).second("type its name").named(&other).show(ui) {
            choice = Some(Choice::Other);
        }
        choice
    }
}
