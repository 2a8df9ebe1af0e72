//! Taking readings: the value as large as it goes, what it should be, which way to go, what comes next.

mod controls;
mod facts;
mod find;
mod typed;
mod value;
mod wanted;

use super::{Cx, card, split};
use crate::model::Wing;
use crate::paint::marks::Mark;
use assess::view::PointView;
use egui::Ui;
use record::Point;

/// Least height of the value, in points.
const LEAST_HEIGHT: f32 = 96.0;

/// Where the height of all that stands about the value is kept from one picture to the next.
fn others_id() -> egui::Id {
    egui::Id::unique("rows about the value")
}

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let high = ui.available_height();
    let others = ui.data(|d| d.get_temp::<f32>(others_id())).unwrap_or(200.0);
    split(
        ui,
        0.66,
        620.0,
        cx,
        |ui, cx| {
            let value_height = (high - others).clamp(LEAST_HEIGHT, 900.0);
            let before = ui.cursor().top();
            card(ui, |ui| value_card(ui, wing, cx, value_height));
            let taken = ui.cursor().top() - before - value_height;
            if (taken - others).abs() > 0.5 {
                ui.data_mut(|d| d.insert_temp(others_id(), taken));
                ui.ctx().request_repaint();
            }
        },
        |ui, cx| {
            card(ui, |ui| facts::show(ui, wing, cx));
            card(ui, |ui| wanted::show(ui, wing, cx));
        },
    );
}

/// The view of the chosen point.
pub fn chosen<'a>(wing: &'a Wing, cx: &Cx<'_>) -> Option<(Point, &'a PointView)> {
    let point = cx.state.point.clone()?;
    wing.assessment.points.iter().find(|v| v.point == point).map(|v| (point, v))
}

/// The mark of a point.
pub fn mark(view: &PointView) -> Mark {
    crate::paint::planform::mark_of(view)
}

fn value_card(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, height: f32) {
    find::show(ui, wing, cx);
    let Some((point, view)) = chosen(wing, cx) else {
        ui.label("The plan has no point to measure.");
        return;
    };
    let height = controls::turn_prompt(ui, cx, view, &point, height);
    value::show(ui, wing, cx, &point, view, height);
    controls::show(ui, wing, cx, &point);
    typed::show(ui, wing, cx, &point);
}

/// Gives a field the keyboard, with the cursor after what stands in it.
fn take_keyboard(ui: &Ui, response: &egui::Response, wanted: &mut bool, chars: usize) {
    if !std::mem::take(wanted) {
        return;
    }
    response.request_focus();
    let mut state = egui::text_edit::TextEditState::load(ui.ctx(), response.id).unwrap_or_default();
    let end = egui::text::CCursor::new(chars);
    state.cursor.set_char_range(Some(egui::text::CCursorRange::one(end)));
    state.store(ui.ctx(), response.id);
}
