//! The drift watch as a long trace.

use crate::theme::palette;
use crate::trace::Trace;
use egui::Ui;
use egui_plot::{AxisHints, FilledArea, Line, Plot, VLine};

/// Draws it: the least and the most of each column as a band with a line through its middle, shifts as upright lines.
pub fn show(ui: &mut Ui, trace: &Trace, unit: &str, height: f32) {
    let p = palette(ui);
    // Up to twice as many come. Narrower ones could hardly be told apart, and tall slivers cost most of a frame.
    let columns = trace.columns((ui.available_width() as usize / 3).clamp(100, 1300));
    let (scale, name) = match trace.span_s() {
        s if s < 180.0 => (1.0, "seconds"),
        s if s < 3.0 * 3600.0 => (60.0, "minutes"),
        _ => (3600.0, "hours"),
    };
    let xs: Vec<f64> = columns.iter().map(|c| c.seconds / scale).collect();
    let low: Vec<f64> = columns.iter().map(|c| c.least).collect();
    let high: Vec<f64> = columns.iter().map(|c| c.most).collect();
    let middle: Vec<[f64; 2]> =
        columns.iter().map(|c| [c.seconds / scale, (c.least + c.most) / 2.0]).collect();
    let y_name = format!("value in {}", crate::words::unit_sign(unit));
    Plot::new("trace")
        .height(height)
        .allow_scroll(false)
        .show_background(false)
        .show_crosshair(false)
        .grid_color(p.ghost)
        .custom_x_axes(vec![AxisHints::new_x().label(name)])
        .custom_y_axes(vec![AxisHints::new_y().label(y_name).min_thickness(46.0)])
        .show(ui, |plot| {
            if xs.len() > 1 {
                let area =
                    FilledArea::new("spread", &xs, &low, &high).fill_color(p.chosen.gamma_multiply(0.45));
                plot.add(area.allow_hover(false));
            }
            plot.line(Line::new("value", middle).color(p.chosen).width(1.5));
            for (at, _, words) in &trace.shifts {
                plot.vline(VLine::new(words.clone(), at / scale).color(p.outside).width(2.0));
            }
        });
}
