//! A reading that is typed, and what goes with every reading.

use super::{Cx, take_keyboard};
use crate::face::{instruments, quantity_of};
use crate::model::Wing;
use crate::screens::field;
use crate::theme::palette;
use egui::{Key, RichText, Ui};
use record::Point;

/// The field, and what goes with it.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, point: &Point) {
    let p = palette(ui);
    let kind = quantity_of(wing, point);
    ui.horizontal_wrapped(|ui| {
        let label = ui.label("Typed reading");
        let hint = match kind {
            Some(quantity::Kind::Angle) => "0.35 or 0°21'",
            Some(quantity::Kind::Length) => "3.2 mm or 5/64 in",
            Some(quantity::Kind::Torque) => "9.5 N·m or 84 in-lb",
            _ => "21 °C",
        };
        let mut text = std::mem::take(&mut cx.state.typed);
        let response = ui
            .add(egui::TextEdit::singleline(&mut text).desired_width(150.0).hint_text(hint))
            .labelled_by(label.id);
        take_keyboard(ui, &response, &mut cx.state.focus_typed, text.chars().count());
        let (enter, escape) = ui.input(|i| (i.key_pressed(Key::Enter), i.key_pressed(Key::Escape)));
        if escape {
            text.clear();
        }
        cx.state.typed = text;
        let reads =
            |text: &str, kind| (!text.trim().is_empty()).then(|| quantity::typed(text, kind).err()).flatten();
        let wrong = kind.and_then(|k| reads(&cx.state.typed, k));
        let wrong_part = reads(&cx.state.temperature, quantity::Kind::Temperature);
        let sound = wrong.is_none() && wrong_part.is_none();
        let can = !cx.state.typed.trim().is_empty() && sound && !wing.read_only;
        let clicked = ui.add_enabled(can, egui::Button::new("Take it  (Enter)")).clicked();
        if can && (clicked || (response.lost_focus() && enter)) {
            cx.state.take_typed(wing, cx.actions);
        } else if response.lost_focus() && enter {
            response.request_focus();
        }
        if let Some(e) = wrong {
            ui.label(RichText::new(e.to_string()).color(p.outside));
        }
        if let Some(e) = wrong_part {
            ui.label(RichText::new(format!("the part's temperature: {e}")).color(p.outside));
        }
    });
    extras(ui, wing, cx, kind);
}

fn extras(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, kind: Option<quantity::Kind>) {
    ui.horizontal_wrapped(|ui| {
        let list = instruments(wing);
        let fitting = list.iter().filter(|i| kind.is_none_or(|k| i.kind.quantity().is_none_or(|q| q == k)));
        ui.label("with");
        let none = "no instrument stated";
        for name in fitting.map(|i| i.name.as_str()) {
            let on = cx.state.instrument.as_deref() == Some(name);
            if ui.selectable_label(on, name).clicked() {
                cx.state.instrument = Some(name.to_owned());
            }
        }
        if ui.selectable_label(cx.state.instrument.is_none(), none).clicked() {
            cx.state.instrument = None;
        }
        let mut text = std::mem::take(&mut cx.state.temperature);
        field(ui, "part at", &mut text, 80.0, "21 °C");
        cx.state.temperature = text;
        ui.checkbox(&mut cx.state.new_round, "begin a new round");
    });
}
