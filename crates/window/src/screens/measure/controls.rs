//! What can be done at the chosen point, and which way the instrument is to face.

use super::Cx;
use crate::model::Wing;
use crate::paint::{big, marks};
use crate::theme::palette;
use assess::view::PointView;
use egui::{FontFamily, FontId, RichText, Role, Sense, Ui, vec2};
use record::Point;

/// After the first of a pair: that the instrument is to be turned, in letters for the other end of the wing. Gives the height
/// that is left for the value.
pub fn turn_prompt(ui: &mut Ui, cx: &Cx<'_>, view: &PointView, point: &Point, height: f32) -> f32 {
    let Some(facing) = cx.state.turned_for(point).filter(|f| view.facing_wanted == Some(*f)) else {
        return height;
    };
    let p = palette(ui);
    let words = format!("Turn it end for end: facing {}", facing.word());
    let high = (height * 0.24).clamp(26.0, 120.0);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), high), Sense::hover());
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 4.0, p.chosen);
    let family = FontFamily::Proportional;
    let size = big::fitting(&painter, &words, &family, rect.shrink2(vec2(14.0, 4.0)).size());
    let galley = painter.layout_no_wrap(words.clone(), FontId::new(size, family), p.sheet);
    painter.galley(rect.center() - galley.size() / 2.0, galley, p.sheet);
    marks::name(&response, Role::Label, None, &words);
    (height - high - ui.spacing().item_spacing.y).max(90.0)
}

/// The buttons below the value.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, point: &Point) {
    let p = palette(ui);
    ui.horizontal_wrapped(|ui| {
        let can = cx.state.live_fits(wing) && !wing.read_only;
        if ui.add_enabled(can, egui::Button::new("Take  (Space)")).clicked() {
            crate::keys::take(cx.state, cx.model, false, cx.actions);
        }
        if point.kind().reverses() {
            let text = format!("Facing {}  (R)", cx.state.facing.word());
            if ui.button(text).on_hover_text(facing_words(point)).clicked() {
                cx.state.turn();
            }
            let pairs = ui.selectable_label(cx.state.pairs, "Ask both ways");
            if pairs.on_hover_text("After a reading facing one way, ask for the other.").clicked() {
                cx.state.pairs = !cx.state.pairs;
            }
        }
        if ui.selectable_label(cx.state.hands.free, "Hands free  (H)").clicked() {
            cx.state.hands.toggle();
        }
        if cx.state.hands.free {
            ui.label(
                RichText::new("each settled value is taken; move the instrument between readings")
                    .color(p.chosen),
            );
        }
        if ui.button("Withdraw the last  (Backspace)").clicked() {
            crate::keys::withdraw_last(cx.state, cx.model);
        }
    });
}

fn facing_words(point: &Point) -> &'static str {
    match point.kind().row().arrow {
        record::point::Arrow::AlongSpan => {
            "forward: the instrument's arrow toward the tip; aft: toward the root"
        }
        record::point::Arrow::AcrossSpan | record::point::Arrow::None => {
            "forward: the instrument's arrow toward the leading edge; aft: toward the trailing edge"
        }
    }
}
