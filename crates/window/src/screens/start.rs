//! The start: open a log, make one, take up a recent one, or look at the invented wing.

use super::{Cx, Screen, card, field, split};
use crate::action::Action;
use crate::theme::palette;
use egui::{Button, RichText, Ui};

/// The screen.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>) {
    ui.add_space(6.0);
    ui.label(
        RichText::new("Is the wing in the jig true, what is to be moved, and may the skins go on?")
            .size(22.0),
    );
    ui.add_space(6.0);
    split(ui, 0.5, 640.0, cx, |ui, cx| card(ui, |ui| open(ui, cx)), |ui, cx| card(ui, |ui| make(ui, cx)));
}

fn open(ui: &mut Ui, cx: &mut Cx<'_>) {
    ui.heading("Open a log");
    if cx.model.recent.is_empty() {
        ui.label("Logs opened here stand in this place the next time.");
    }
    let p = palette(ui);
    for recent in &cx.model.recent {
        let name = if recent.wing.is_empty() { &recent.path } else { &recent.wing };
        ui.horizontal_wrapped(|ui| {
            if ui.button(name).clicked() {
                cx.actions.push(Action::OpenLog(recent.path.clone()));
            }
            ui.label(RichText::new(&recent.path).color(p.pale));
        });
    }
    let mut path = std::mem::take(&mut cx.state.open_path);
    let response = field(ui, "File", &mut path, 320.0, "NAME.jigtrue");
    let given = !path.trim().is_empty();
    let enter = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
    if ui.add_enabled(given, Button::new("Open it")).clicked() || (enter && given) {
        cx.ask(Action::OpenLog(path.trim().to_owned()));
    }
    cx.state.open_path = path;
}

fn make(ui: &mut Ui, cx: &mut Cx<'_>) {
    ui.heading("A new wing");
    ui.label("Describe the wing and its jig; the drawing grows as you fill it in. Have the kit maker's drawings at hand.");
    if ui.button("Describe a new wing").clicked() {
        cx.state.screen = Screen::NewWing;
    }
    ui.add_space(8.0);
    ui.heading("From a plan");
    let mut plan = std::mem::take(&mut cx.state.draft.from_plan);
    let mut log = std::mem::take(&mut cx.state.draft.to_log);
    field(ui, "Plan", &mut plan, 320.0, "plan.toml");
    field(ui, "Log", &mut log, 320.0, "NAME.jigtrue");
    let given = !plan.trim().is_empty() && !log.trim().is_empty();
    if ui.add_enabled(given, Button::new("Make the log")).clicked() {
        cx.ask(Action::NewLogFromPlan { plan: plan.trim().to_owned(), log: log.trim().to_owned() });
    }
    cx.state.draft.from_plan = plan;
    cx.state.draft.to_log = log;
    ui.add_space(8.0);
    ui.heading("Look around");
    ui.label("An invented wing with invented readings, from the empty jig to the closing gate.");
    if ui.button("Open the invented wing").clicked() {
        cx.ask(Action::Demo);
    }
    if ui.button("Begin it from the empty jig").clicked() {
        cx.ask(Action::DemoFromEmpty);
    }
}
