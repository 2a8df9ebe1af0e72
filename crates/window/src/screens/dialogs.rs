//! Questions asked over a screen.

use super::{Cx, field};
use crate::action::Action;
use crate::keys::HELP;
use crate::model::{Import, Wing};
use crate::paint::marks::{self, Mark};
use crate::theme::palette;
use crate::words;
use egui::{Id, Modal, RichText, ScrollArea, Ui};

/// A question.
#[derive(Clone, Debug, PartialEq)]
pub enum Dialog {
    /// Why is this entry withdrawn?
    Withdraw {
        /// Its number.
        seq: u64,
        /// What it was.
        what: String,
        /// The reason as typed so far.
        reason: String,
        /// True until the field has the keyboard.
        fresh: bool,
    },
    /// Which stage begins?
    Stages,
    /// Which port, which instrument?
    Port {
        /// The port.
        port: String,
        /// The instrument.
        instrument: String,
        /// True until the ports were looked for.
        fresh: bool,
    },
    /// Who is working?
    Who {
        /// The name as typed so far.
        name: String,
        /// True until the field has the keyboard.
        fresh: bool,
    },
    /// What the keys do.
    Keys,
    /// The cautions.
    Cautions,
    /// A table to import.
    Import,
}

impl Dialog {
    /// The question for the port, with what is open already.
    pub fn port(wing: &Wing, chosen: Option<&str>) -> Self {
        use crate::live::Port;
        let port = match &wing.live.port {
            Port::None => String::new(),
            Port::Opening(n) | Port::Open(n) | Port::Quiet(n) | Port::Lost(n) => n.clone(),
            Port::Stranger { port, .. } => port.clone(),
        };
        let instrument = wing.live.instrument.as_deref().or(chosen).unwrap_or_default().to_owned();
        Self::Port { port, instrument, fresh: true }
    }
}

/// The cautions, shown at the first start and on demand.
pub const CAUTIONS: [&str; 5] = [
    "jigtrue measures and records. It does not approve. The kit maker's drawings and manual, the local authority and a \
     licensed person stand above it.",
    "It knows no tolerance but those in the plan, and those come from the kit maker's data. What has none gets no verdict.",
    "A wing on a jig can roll or drop. Before a support is moved, see that the others carry, that nobody reaches under, \
     and that clamps and straps hold.",
    "Springs and clamps let go suddenly; wear eye protection. Overhead work needs a second person.",
    "An instrument is only as good as its last check. Check its zero by reversing it before each round.",
];

/// Shows the question that stands, if one does.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>) {
    if let Some(import) = &cx.model.import {
        cx.state.dialog = None;
        importing(ui, cx, import);
        return;
    }
    let Some(mut dialog) = cx.state.dialog.take() else { return };
    let mut keep = true;
    let room = ui.ctx().content_rect().size();
    let modal = Modal::new(Id::unique("question")).show(ui.ctx(), |ui| {
        ui.set_width((room.x - 60.0).clamp(120.0, 620.0));
        let most = (room.y - 60.0).max(80.0);
        ScrollArea::vertical().max_height(most).min_scrolled_height(most).show(ui, |ui| {
            keep = content(ui, &mut dialog, cx);
        });
    });
    if modal.should_close() {
        keep = false;
        if dialog == Dialog::Cautions {
            cx.ask(Action::CautionsRead);
        }
    }
    if keep && cx.state.dialog.is_none() {
        cx.state.dialog = Some(dialog);
    }
}

/// A table is being read in: how far it is, and a way to stop it.
fn importing(ui: &mut Ui, cx: &mut Cx<'_>, import: &Import) {
    let room = ui.ctx().content_rect().size();
    Modal::new(Id::unique("importing")).show(ui.ctx(), |ui| {
        ui.set_width((room.x - 60.0).clamp(120.0, 620.0));
        ui.heading("A table is read in");
        ui.label(&import.table);
        let bar = egui::ProgressBar::new(import.share).show_percentage();
        ui.add(bar);
        ui.label(format!(
            "{}. All of its readings are taken, or none.",
            words::count(import.lines as usize, "line", "lines")
        ));
        if import.stopping {
            ui.label("It is being stopped.");
        } else if ui.button("Stop it").clicked() {
            cx.ask(Action::StopImport);
        }
    });
}

fn content(ui: &mut Ui, dialog: &mut Dialog, cx: &mut Cx<'_>) -> bool {
    match dialog {
        Dialog::Withdraw { seq, what, reason, fresh } => withdraw(ui, cx, *seq, what, reason, fresh),
        Dialog::Stages => stages(ui, cx),
        Dialog::Port { port, instrument, fresh } => port_form(ui, cx, port, instrument, fresh),
        Dialog::Who { name, fresh } => who(ui, cx, name, fresh),
        Dialog::Keys => keys(ui),
        Dialog::Cautions => cautions(ui, cx),
        Dialog::Import => import(ui, cx),
    }
}

fn withdraw(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    seq: u64,
    what: &str,
    reason: &mut String,
    fresh: &mut bool,
) -> bool {
    ui.heading("Withdraw a reading");
    ui.label(format!("Entry {seq}: {what}"));
    ui.label("The entry stays in the log; from now on it does not count.");
    let response = field(ui, "Reason", reason, 360.0, "slipped off the rib");
    if std::mem::take(fresh) {
        response.request_focus();
    }
    let enter = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
    let given = !reason.trim().is_empty();
    let mut keep = true;
    ui.horizontal_wrapped(|ui| {
        if ui.add_enabled(given, egui::Button::new("Withdraw it")).clicked() || (enter && given) {
            cx.ask(Action::Withdraw { seq, reason: reason.trim().to_owned() });
            keep = false;
        }
        if ui.button("Keep it").clicked() {
            keep = false;
        }
        if !given {
            ui.label(RichText::new("A reason is needed.").color(palette(ui).pale));
        }
    });
    keep
}

fn stages(ui: &mut Ui, cx: &mut Cx<'_>) -> bool {
    ui.heading("Stages of the build");
    let Some(wing) = &cx.model.wing else { return false };
    let p = palette(ui);
    let mut keep = true;
    let now = wing.assessment.stage.clone();
    ui.label("Beginning a stage makes the readings it disturbs stale; they stay in the history.");
    for (n, stage) in wing.plan.stages.iter().enumerate() {
        ui.separator();
        ui.horizontal_wrapped(|ui| {
            let current = now.as_deref() == Some(stage.name.as_str());
            ui.label(RichText::new(format!("{}. {}", n + 1, stage.name)).strong());
            if current {
                ui.label(RichText::new("now").color(p.chosen));
                if let Some(v) = wing.assessment.stage_verdict {
                    marks::label(ui, &p, Mark::Of(v), v.word());
                }
            } else if ui
                .add_enabled(!wing.read_only, egui::Button::new(format!("Begin {}", stage.name)))
                .clicked()
            {
                cx.actions.push(Action::BeginStage(stage.name.clone()));
                keep = false;
            }
        });
        let needs = crate::words::count(stage.requires.len(), "point required", "points required");
        let disturbs = crate::words::count(stage.disturbs.len(), "point disturbed", "points disturbed");
        ui.label(RichText::new(format!("{needs}, {disturbs}")).color(p.pale));
        for item in &stage.open {
            ui.label(RichText::new(format!("left open: {item}")).color(p.pale));
        }
    }
    ui.separator();
    keep && !ui.button("Close").clicked()
}

fn port_form(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    port: &mut String,
    instrument: &mut String,
    fresh: &mut bool,
) -> bool {
    ui.heading("The port and the instrument on it");
    let Some(wing) = &cx.model.wing else { return false };
    let typed_port = field(ui, "Port", port, 320.0, "/dev/ttyUSB0 or COM3");
    if std::mem::take(fresh) {
        cx.actions.push(Action::ListPorts);
        typed_port.request_focus();
    }
    ui.horizontal_wrapped(|ui| {
        for name in &cx.model.ports {
            if ui.selectable_label(port == name, name).clicked() {
                port.clone_from(name);
            }
        }
        if cx.model.ports.is_empty() {
            ui.label(RichText::new("No port was found by itself; type its name.").color(palette(ui).pale));
        }
    });
    let typed_name = field(ui, "Instrument", instrument, 320.0, "its name, or its file");
    let enter =
        (typed_port.lost_focus() || typed_name.lost_focus()) && ui.input(|i| i.key_pressed(egui::Key::Enter));
    ui.horizontal_wrapped(|ui| {
        for i in crate::face::instruments(wing) {
            if ui.selectable_label(*instrument == i.name, &i.name).clicked() {
                *instrument = i.name;
            }
        }
    });
    ui.label("With a name alone the instrument is expected to send this program's own framed lines; a file says how it speaks.");
    let mut keep = true;
    ui.horizontal_wrapped(|ui| {
        let ready = !port.trim().is_empty() && !instrument.trim().is_empty();
        if ui.add_enabled(ready, egui::Button::new("Open the port")).clicked() || (enter && ready) {
            let (port, instrument) = (port.trim().to_owned(), instrument.trim().to_owned());
            cx.actions.push(Action::OpenPort { port, instrument });
            keep = false;
        }
        if wing.live.port != crate::live::Port::None && ui.button("Close the port").clicked() {
            cx.actions.push(Action::ClosePort);
            keep = false;
        }
        if ui.button("Look again").clicked() {
            cx.actions.push(Action::ListPorts);
        }
        if ui.button("Back").clicked() {
            keep = false;
        }
    });
    keep
}

fn who(ui: &mut Ui, cx: &mut Cx<'_>, name: &mut String, fresh: &mut bool) -> bool {
    ui.heading("Who is working?");
    ui.label("The name stands beside each entry of the log.");
    let response = field(ui, "Name", name, 320.0, "as you sign");
    if std::mem::take(fresh) {
        response.request_focus();
    }
    let enter = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
    let mut keep = true;
    ui.horizontal_wrapped(|ui| {
        if ui.button("Use this name").clicked() || enter {
            cx.ask(Action::SetWho(name.trim().to_owned()));
            keep = false;
        }
        if ui.button("Back").clicked() {
            keep = false;
        }
    });
    keep
}

fn keys(ui: &mut Ui) -> bool {
    ui.heading("Keys");
    let rows: Vec<super::table::Row> =
        HELP.iter().map(|(key, does)| super::table::Row::new(vec![(*key).into(), (*does).into()])).collect();
    super::table::show(ui, "keys", &["key", "does"], &rows, false);
    ui.label("A foot switch that types a space takes a reading.");
    !ui.button("Close").clicked()
}

fn cautions(ui: &mut Ui, cx: &mut Cx<'_>) -> bool {
    ui.heading("Cautions");
    for line in CAUTIONS {
        ui.label(line);
        ui.add_space(4.0);
    }
    let read = ui.button("I have read this").clicked();
    if read {
        cx.ask(Action::CautionsRead);
    }
    !read
}

fn import(ui: &mut Ui, cx: &mut Cx<'_>) -> bool {
    ui.heading("Import a table of readings");
    ui.label("A CSV file with a head. All of its readings are taken, or none.");
    let mut path = std::mem::take(&mut cx.state.import_path);
    field(ui, "File", &mut path, 360.0, "readings.csv");
    let mut keep = true;
    ui.horizontal_wrapped(|ui| {
        let given = !path.trim().is_empty();
        if ui.add_enabled(given, egui::Button::new("Import it")).clicked() {
            cx.ask(Action::Import(path.trim().to_owned()));
            keep = false;
        }
        if ui.button("Back").clicked() {
            keep = false;
        }
    });
    cx.state.import_path = path;
    keep
}
