//! The points still wanted.

use super::{Cx, mark};
use crate::model::Wing;
use crate::paint::marks;
use crate::screens::dialogs::Dialog;
use crate::theme::palette;
use egui::{Role, Ui, vec2};

/// Each with its mark; one is chosen by a click.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let p = palette(ui);
    let list = &wing.assessment.wanted;
    if list.is_empty() {
        let text = match wing.assessment.stage {
            Some(_) => "Nothing is wanted at this stage.",
            None => "No stage has begun. Begin the first with S.",
        };
        ui.label(text);
        if wing.assessment.stage.is_none() && ui.button("Stages  (S)").clicked() {
            cx.state.dialog = Some(Dialog::Stages);
        }
        return;
    }
    ui.label(format!("Still wanted: {}", list.len()));
    ui.horizontal_wrapped(|ui| {
        for point in list {
            let Some(view) = wing.assessment.points.iter().find(|v| v.point == *point) else { continue };
            let here = cx.state.point.as_ref().is_some_and(|x| x == point);
            let response = ui.selectable_label(here, format!("      {point}"));
            let at = response.rect.left_center() + vec2(18.0, 0.0);
            marks::draw(ui.painter(), &p, at, 5.0, mark(view));
            marks::name(&response, Role::Button, Some(here), &format!("wanted: {point}"));
            if response.clicked() {
                cx.state.choose(point.clone());
            }
        }
    });
    if ui.button("Next  (N)").clicked() {
        cx.state.advance(wing);
    }
}
