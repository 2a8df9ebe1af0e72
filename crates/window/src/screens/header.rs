//! What stands above and below every screen: the wing, its stage, the gate, the port; and the way to the screens.

use super::dialogs::Dialog;
use super::{Cx, Screen};
use crate::action::Action;
use crate::face::SCALES;
use crate::live::Port;
use crate::model::Notice;
use crate::paint::marks::{self, Mark};
use crate::theme::palette;
use assess::Verdict;
use egui::{Button, RichText, Role, Sense, Stroke, Theme, Ui, vec2};
use record::GateState;

/// The row above.
pub fn top(ui: &mut Ui, cx: &mut Cx<'_>) {
    ui.horizontal_wrapped(|ui| {
        match &cx.model.wing {
            Some(wing) => {
                ui.heading(&wing.assessment.wing);
                stage_button(ui, cx);
                gate_button(ui, cx);
                port_button(ui, cx);
                if wing.read_only {
                    ui.label(RichText::new("read only").color(palette(ui).outside));
                }
            }
            None => {
                ui.heading("jigtrue");
            }
        }
        who_button(ui, cx);
        menu(ui, cx);
    });
}

/// Where there is little room: the screens as a list that opens, and whose wing it is.
pub fn small(ui: &mut Ui, cx: &mut Cx<'_>) {
    ui.horizontal_wrapped(|ui| {
        if cx.model.wing.is_some() && cx.state.screen.has_navigator() {
            ui.menu_button(cx.state.screen.name(), |ui| {
                for (n, (screen, _)) in Screen::OF_A_LOG.into_iter().enumerate() {
                    if ui.button(format!("F{}  {}", n + 1, screen.name())).clicked() {
                        cx.state.screen = screen;
                        ui.close();
                    }
                }
            });
        }
        if let Some(wing) = &cx.model.wing {
            ui.label(&wing.assessment.wing);
        }
    });
}

fn stage_button(ui: &mut Ui, cx: &mut Cx<'_>) {
    let Some(wing) = &cx.model.wing else { return };
    let a = &wing.assessment;
    let text = match (&a.stage, a.stage_number) {
        (Some(name), Some(n)) => format!("stage {} of {}: {name}", n.number, n.of),
        (Some(name), None) => format!("stage: {name}"),
        _ => "no stage begun".to_owned(),
    };
    if ui.button(text).on_hover_text("The stages of the build (S)").clicked() {
        cx.state.dialog = Some(Dialog::Stages);
    }
}

fn gate_button(ui: &mut Ui, cx: &mut Cx<'_>) {
    let Some(wing) = &cx.model.wing else { return };
    let p = palette(ui);
    let gate = &wing.assessment.gate;
    let (verdict, text) = match gate.state {
        GateState::Clear => (Verdict::Within, "gate: clear".to_owned()),
        GateState::Hold => (
            Verdict::Outside,
            format!("gate: hold, {}", crate::words::count(gate.reasons.len(), "reason", "reasons")),
        ),
    };
    let h = ui.text_style_height(&egui::TextStyle::Body);
    let (rect, _) = ui.allocate_exact_size(vec2(h, ui.spacing().interact_size.y), Sense::hover());
    marks::draw(ui.painter(), &p, rect.center(), h * 0.36, Mark::Of(verdict));
    if ui.button(text).on_hover_text("What stands against closing the skins (F8)").clicked() {
        cx.state.screen = Screen::Gate;
    }
}

/// The state of a port in words.
pub fn port_words(port: &Port) -> String {
    match port {
        Port::None => "no port open".to_owned(),
        Port::Opening(name) => format!("{name}: being opened"),
        Port::Open(name) => format!("{name}: values come in"),
        Port::Quiet(name) => format!("{name}: open, nothing comes in"),
        Port::Lost(name) => format!("{name}: gone; taken up again when it is back"),
        Port::Stranger { port, number } => {
            format!("{port}: another instrument, number {number}; nothing is taken from it")
        }
    }
}

fn port_button(ui: &mut Ui, cx: &mut Cx<'_>) {
    let Some(wing) = &cx.model.wing else { return };
    let p = palette(ui);
    let colour = match wing.live.port {
        Port::None => p.pale,
        Port::Opening(_) => p.pale,
        Port::Open(_) => p.within,
        Port::Quiet(_) => p.undecided,
        Port::Lost(_) | Port::Stranger { .. } => p.outside,
    };
    let h = ui.text_style_height(&egui::TextStyle::Body);
    let (rect, _) = ui.allocate_exact_size(vec2(h, ui.spacing().interact_size.y), Sense::hover());
    plug(ui, rect, colour, matches!(wing.live.port, Port::Open(_)));
    let words = port_words(&wing.live.port);
    if ui.button(words).on_hover_text("The port and the instrument on it (P)").clicked() {
        cx.state.dialog = Some(Dialog::port(wing, cx.state.instrument.as_deref()));
    }
}

/// Two half plugs: together while values come in, apart while they do not.
fn plug(ui: &Ui, rect: egui::Rect, colour: egui::Color32, together: bool) {
    let c = rect.center();
    let r = rect.width() * 0.26;
    let gap = if together { 0.0 } else { r * 0.8 };
    let painter = ui.painter();
    for side in [-1.0_f32, 1.0] {
        let body =
            egui::Rect::from_center_size(c + vec2(side * (r * 0.6 + gap), 0.0), vec2(r * 1.1, r * 1.6));
        painter.rect_filled(body, 1.0, colour);
        let end = c + vec2(side * (r * 1.1 + gap), 0.0);
        painter.line_segment([end, end + vec2(side * r * 0.8, 0.0)], Stroke::new(2.0, colour));
    }
}

fn who_button(ui: &mut Ui, cx: &mut Cx<'_>) {
    let text = if cx.model.who.is_empty() { "who is working?".to_owned() } else { cx.model.who.clone() };
    if ui.button(text).on_hover_text("Whose name goes beside each entry").clicked() {
        cx.state.dialog = Some(Dialog::Who { name: cx.model.who.clone(), fresh: true });
    }
}

fn menu(ui: &mut Ui, cx: &mut Cx<'_>) {
    ui.menu_button("Window", |ui| {
        ui.label("Size");
        ui.horizontal_wrapped(|ui| {
            for scale in SCALES {
                let on = (cx.state.scale - scale).abs() < 0.01;
                if ui.selectable_label(on, format!("{:.0} %", scale * 100.0)).clicked() {
                    cx.state.scale = scale;
                }
            }
        });
        ui.horizontal_wrapped(|ui| {
            let now = ui.ctx().theme();
            for (theme, name) in [(Theme::Light, "Light"), (Theme::Dark, "Dark")] {
                if ui.selectable_label(now == theme, name).clicked() {
                    cx.state.theme = Some(theme);
                }
            }
        });
        ui.separator();
        if ui.button("Keys").clicked() {
            cx.state.dialog = Some(Dialog::Keys);
            ui.close();
        }
        if ui.button("Cautions").clicked() {
            cx.state.dialog = Some(Dialog::Cautions);
            ui.close();
        }
        if cx.model.wing.is_some() && ui.button("Import a table of readings").clicked() {
            cx.state.dialog = Some(Dialog::Import);
            ui.close();
        }
        if cx.model.wing.is_some() && ui.button("Close the log").clicked() {
            cx.ask(Action::CloseLog);
            ui.close();
        }
        if ui.button("Leave").clicked() {
            cx.ask(Action::Quit);
        }
    });
}

/// What could not be done, and hints.
pub fn notice(ui: &mut Ui, cx: &mut Cx<'_>) {
    let p = palette(ui);
    let line = |ui: &mut Ui, n: &Notice| -> bool {
        let colour = if n.wrong { p.outside } else { p.chosen };
        let mut closed = false;
        egui::Frame::new()
            .fill(p.sheet)
            .stroke(Stroke::new(2.0, colour))
            .inner_margin(egui::Margin::symmetric(8, 4))
            .show(ui, |ui| {
                ui.horizontal_wrapped(|ui| {
                    let response =
                        ui.label(RichText::new(&n.words).color(if n.wrong { p.outside } else { p.ink }));
                    marks::name(&response, Role::Alert, None, &n.words);
                    closed = ui.add(Button::new("Close").small()).clicked();
                });
            });
        closed
    };
    if let Some(n) = cx.model.notice.as_ref().filter(|n| n.wrong)
        && line(ui, n)
    {
        cx.ask(Action::DismissNotice);
    }
    if let Some(n) = cx.state.hint.clone()
        && line(ui, &n)
    {
        cx.state.hint = None;
    }
}

/// The row below: the screens with their keys.
pub fn screens(ui: &mut Ui, cx: &mut Cx<'_>) {
    ui.horizontal_wrapped(|ui| {
        for (n, (screen, _)) in Screen::OF_A_LOG.into_iter().enumerate() {
            let on = cx.state.screen == screen;
            let text = format!("F{}  {}", n + 1, screen.name());
            let response = ui.selectable_label(on, text);
            marks::name(&response, Role::Tab, Some(on), screen.name());
            if response.clicked() {
                cx.state.screen = screen;
            }
        }
        // What was done last stands here, where it moves nothing else.
        done(ui, cx);
    });
}

/// What was done last.
pub fn done(ui: &mut Ui, cx: &Cx<'_>) {
    if let Some(n) = cx.model.notice.as_ref().filter(|n| !n.wrong) {
        let response = ui.label(RichText::new(&n.words).color(palette(ui).chosen));
        marks::name(&response, Role::Status, None, &n.words);
    }
}
