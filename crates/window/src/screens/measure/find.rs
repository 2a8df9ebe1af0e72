//! Finding a point by its name.

use super::{Cx, chosen, take_keyboard};
use crate::model::Wing;
use crate::theme::palette;
use crate::words;
use egui::{Key, RichText, Ui};
use record::Point;

/// The name of the chosen point, and the field that finds another.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let Some((point, _)) = chosen(wing, cx) else { return };
    ui.horizontal_wrapped(|ui| {
        ui.heading(words::point(&point));
        let label = ui.label("find");
        let hint = point.to_string();
        let mut text = std::mem::take(&mut cx.state.find);
        let edit = egui::TextEdit::singleline(&mut text).desired_width(170.0).hint_text(hint);
        let response = ui.add(edit).labelled_by(label.id);
        take_keyboard(ui, &response, &mut cx.state.focus_find, text.chars().count());
        let hits = matching(wing, &text);
        if response.lost_focus() {
            if ui.input(|i| i.key_pressed(Key::Enter))
                && let Some(p) = hits.first()
            {
                cx.state.choose(p.clone());
            }
            text.clear();
        } else if response.has_focus() && !text.is_empty() {
            for p in hits.iter().take(6) {
                if ui.button(p.to_string()).clicked() {
                    cx.state.choose(p.clone());
                    text.clear();
                }
            }
            if hits.is_empty() {
                ui.label(RichText::new("no point has that in its name").color(palette(ui).outside));
            }
        }
        cx.state.find = text;
    });
}

/// Points whose name holds the text, those of the chosen place first.
fn matching(wing: &Wing, text: &str) -> Vec<Point> {
    let text = text.trim().to_lowercase();
    if text.is_empty() {
        return Vec::new();
    }
    let all = wing.assessment.points.iter().map(|v| v.point.clone());
    let mut hits: Vec<Point> = all.filter(|p| p.to_string().to_lowercase().contains(&text)).collect();
    hits.sort_by_key(|p| p.place().to_lowercase() != text);
    hits
}
