//! The shaft in its bushes, seen along it: each bore with the best straight line's place in it.

use crate::paint::marks;
use crate::theme::palette;
use assess::view::BoreLine;
use egui::{Align2, FontId, Role, Sense, Stroke, Ui, vec2};

/// Side of one bush's picture.
const SIDE: f32 = 92.0;

/// Draws one picture per bush: the clearance ring the line may wander in, and where the line is.
///
/// The room between bore and shaft is drawn to one scale for all bushes.
pub fn show(ui: &mut Ui, line: &BoreLine) {
    let p = palette(ui);
    let off = |b: &assess::view::BushView| (b.line_aft_mm - b.aft_mm, b.line_up_mm - b.up_mm);
    let gap = |b: &assess::view::BushView| {
        let (x, y) = off(b);
        b.clearance_mm + x.hypot(y)
    };
    let most = line.bushes.iter().map(|b| gap(b).max(off(b).0.hypot(off(b).1))).fold(1e-6, f64::max);
    ui.horizontal_wrapped(|ui| {
        for bush in &line.bushes {
            let (rect, response) = ui.allocate_exact_size(vec2(SIDE, SIDE + 18.0), Sense::hover());
            let painter = ui.painter_at(rect);
            let centre = rect.center_top() + vec2(0.0, SIDE / 2.0);
            let scale = f64::from(SIDE) * 0.42 / most;
            let ring = (gap(bush).max(0.0) * scale) as f32;
            let binds = bush.clearance_mm < 0.0;
            let colour = if binds { p.outside } else { p.within };
            painter.circle(centre, ring.max(2.0), p.skin, Stroke::new(2.0, colour));
            painter
                .line_segment([centre - vec2(5.0, 0.0), centre + vec2(5.0, 0.0)], Stroke::new(1.0, p.rule));
            painter
                .line_segment([centre - vec2(0.0, 5.0), centre + vec2(0.0, 5.0)], Stroke::new(1.0, p.rule));
            let (aft, up) = off(bush);
            let at = centre + vec2((aft * scale) as f32, -(up * scale) as f32);
            if binds {
                marks::draw(&painter, &p, at, 6.0, marks::Mark::Of(assess::Verdict::Outside));
            } else {
                painter.circle_filled(at, 5.0, p.ink);
            }
            painter.text(
                rect.center_bottom(),
                Align2::CENTER_BOTTOM,
                &bush.bush,
                FontId::proportional(13.0),
                p.ink,
            );
            let words = format!("{}: clearance {:.3} mm", bush.bush, bush.clearance_mm);
            marks::name(&response, Role::Label, None, &words);
            response.on_hover_text(words);
        }
    });
    ui.label("Ring: where the shaft's middle may be; dot: where the best straight line passes. Seen from the root, aft to the right.");
}
