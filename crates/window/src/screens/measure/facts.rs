//! What is known of the chosen point.

use super::{Cx, chosen, mark};
use crate::model::Wing;
use crate::paint::marks;
use crate::screens::Screen;
use crate::theme::palette;
use crate::words;
use assess::view::PointState;
use egui::{RichText, Ui};

/// Its design, value, limits and judgement.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let p = palette(ui);
    let Some((point, view)) = chosen(wing, cx) else { return };
    let places = words::usual_decimals(view.unit.base_symbol());
    ui.spacing_mut().interact_size.y = 20.0;
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(view.point.to_string()).strong());
        marks::label(ui, &p, mark(view), words::standing(view));
    });
    let mut line = |name: &str, text: String| {
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(name).color(p.pale));
            ui.label(text);
        });
    };
    if let Some(d) = view.design {
        line("design", words::with_unit(d, view.unit.base_symbol(), places));
    }
    if let Some(v) = view.value {
        let text = match view.u {
            Some(u) => format!(
                "{} ± {}",
                words::with_unit(v, view.unit.base_symbol(), places),
                words::with_unit(2.0 * u, view.unit.base_symbol(), places)
            ),
            None => words::with_unit(v, view.unit.base_symbol(), places),
        };
        line("measured", text);
        let pair = if view.reversed { ", reversed" } else { "" };
        line("from", format!("{}{pair}", words::count(view.readings, "reading", "readings")));
    }
    if view.lower.is_some() || view.upper.is_some() {
        line("limits", words::limits(view.lower, view.upper, view.unit.base_symbol()));
    }
    if let Some(by) = &view.judged_by {
        line("judged by", by.to_string());
    }
    if let Some(pr) = view.probability {
        line("conforms with probability", format!("{:.1} %", pr * 100.0));
    }
    if let Some(why) = &view.stale_because {
        line("stale because", why.clone());
    }
    if let Some(decide) = &view.decide {
        line("to decide it", decide.clone());
    }
    if let Some(f) = view.facing_wanted {
        line("for a pair", format!("take it facing {} too", f.word()));
        if cx.state.facing != f && ui.button(format!("Turn to facing {}", f.word())).clicked() {
            cx.state.turn();
        }
    }
    if view.state != PointState::Missing && ui.button("History  (F5)").clicked() {
        cx.state.choose(point);
        cx.state.screen = Screen::Point;
    }
}
