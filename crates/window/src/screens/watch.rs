//! The drift watch: an instrument left on the jig.

use super::measure::chosen;
use super::table::{self, Row};
use super::{Cx, card};
use crate::action::Action;
use crate::model::Wing;
use crate::plots;
use crate::theme::palette;
use crate::words;
use egui::{RichText, Ui};
use record::What;

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let p = palette(ui);
    match &wing.trace {
        Some(trace) => {
            let point = trace.point.as_ref();
            let unit =
                point.and_then(|x| crate::face::quantity_of(wing, x)).map_or("", quantity::Kind::base_symbol);
            ui.horizontal_wrapped(|ui| {
                ui.heading(point.map(words::point).unwrap_or_default());
                if let Some(v) = trace.last() {
                    ui.label(RichText::new(words::with_unit(v, unit, 3)).strong());
                }
                ui.label(words::count(trace.len(), "sample", "samples"));
                ui.label(duration(trace.span_s()));
                if ui.button("End the watch").clicked() {
                    cx.ask(Action::Watch(None));
                }
            });
            let height = (ui.available_height() - 120.0).clamp(180.0, 800.0);
            plots::trace::show(ui, trace, unit, height);
            for (at, size, words) in &trace.shifts {
                let size = words::signed_unit(*size, unit, 3);
                ui.label(
                    RichText::new(format!("{}: shifted by {size}. {words}", duration(*at))).color(p.outside),
                );
            }
            if let (Some(first), Some(last)) = (trace.temperature.first(), trace.temperature.last()) {
                ui.label(format!("Temperature {:.1} °C at the start, {:.1} °C now.", first.1, last.1));
            }
        }
        None => begin(ui, wing, cx),
    }
    card(ui, |ui| recorded(ui, wing));
}

fn begin(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    ui.label("Leave an instrument on the jig over an hour or a night: what moves, and when, is recorded in the log.");
    let Some((point, _)) = chosen(wing, cx) else { return };
    let open = !matches!(wing.live.port, crate::live::Port::None | crate::live::Port::Opening(_));
    if ui.add_enabled(open && !wing.read_only, egui::Button::new(format!("Watch {point}"))).clicked() {
        cx.ask(Action::Watch(Some(point)));
    }
    if !open {
        ui.label("A watch needs an instrument on a port.");
        if ui.button("Open a port  (P)").clicked() {
            cx.state.dialog = Some(super::dialogs::Dialog::port(wing, cx.state.instrument.as_deref()));
        }
    }
}

/// A length of time in words.
fn duration(seconds: f64) -> String {
    let s = seconds.max(0.0).round() as u64;
    match s {
        0..=119 => format!("{s} s"),
        120..=7199 => format!("{} min", s / 60),
        _ => format!("{} h {} min", s / 3600, s % 3600 / 60),
    }
}

fn recorded(ui: &mut Ui, wing: &Wing) {
    let rows: Vec<Row> = wing
        .entries
        .iter()
        .rev()
        .filter_map(|e| match &e.what {
            What::Drift { point, mean, least, most, samples, seconds, temperature, shift } => {
                let unit = crate::face::quantity_of(wing, point).map_or("", quantity::Kind::base_symbol);
                Some(Row::new(vec![
                    words::at(e.at).into(),
                    point.to_string().into(),
                    words::with_unit(*mean, unit, 3).into(),
                    format!("{} to {}", words::number(*least, 3), words::number(*most, 3)).into(),
                    format!("{samples} in {seconds} s").into(),
                    temperature.map_or_else(String::new, |t| format!("{t:.1}")).into(),
                    shift
                        .map_or_else(String::new, |(size, at)| {
                            format!("shift of {} at {}", words::signed_unit(size, unit, 3), words::at(at))
                        })
                        .into(),
                ]))
            }
            _ => None,
        })
        .take(200)
        .collect();
    if rows.is_empty() {
        ui.label("The log has no drift record yet.");
        return;
    }
    ui.label(RichText::new("Recorded in the log, the latest first").strong());
    let heads = ["at (UTC)", "point", "mean", "from least to most", "samples", "part at", "shift"];
    table::show(ui, "drift", &heads, &rows, false);
}
