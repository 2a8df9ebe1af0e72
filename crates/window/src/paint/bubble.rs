//! The bubble: tilt in two axes, as a disc that wants to be in the middle ring.

use crate::theme::Palette;
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Stroke, pos2, vec2};

/// What is drawn.
pub struct Bubble {
    /// Tilt along the span in degrees, positive outboard end up; none if unknown.
    pub level_deg: Option<f64>,
    /// Tilt fore and aft, positive leading edge up; none if unknown.
    pub cross_deg: Option<f64>,
    /// Tolerance either way, level and cross, drawn as the inner ring.
    pub tolerance_deg: (f64, f64),
    /// True where outboard is drawn to the left.
    pub mirrored: bool,
    /// The colour of the bubble.
    pub colour: Color32,
}

/// Where the bubble stands, each axis from -1 to 1, for a full scale: like a real bubble it goes to the high side, and it
/// slows down outward so that the last tenth of a degree is seen well.
pub fn place(tilt_deg: f64, full_deg: f64) -> f32 {
    let share = (tilt_deg / full_deg).clamp(-1.0, 1.0);
    (share.signum() * share.abs().sqrt()) as f32
}

/// Draws it into a rectangle, as a plan view: outboard to the side, leading edge up.
pub fn draw(painter: &Painter, p: &Palette, rect: Rect, bubble: &Bubble) {
    let font = (rect.height() * 0.05).clamp(10.0, 22.0);
    let radius = (rect.width().min(rect.height()) / 2.0 - font * 1.6).max(10.0);
    let centre = rect.center();
    let (tl, tc) = bubble.tolerance_deg;
    let full = (tl.max(tc) * 20.0).max(1.0);
    painter.circle(centre, radius, p.sheet, Stroke::new(2.0, p.ink));
    let inner = vec2(place(tl, full) * radius, place(tc, full) * radius);
    ellipse(painter, centre, inner, Stroke::new(2.5, p.within));
    for share in [0.5_f32, 0.75] {
        painter.circle_stroke(centre, radius * share, Stroke::new(1.0, p.rule));
    }
    painter.line_segment([centre - vec2(radius, 0.0), centre + vec2(radius, 0.0)], Stroke::new(1.0, p.rule));
    painter.line_segment([centre - vec2(0.0, radius), centre + vec2(0.0, radius)], Stroke::new(1.0, p.rule));
    let side = if bubble.mirrored { -1.0 } else { 1.0 };
    let x = bubble.level_deg.map(|v| place(v, full) * side);
    let y = bubble.cross_deg.map(|v| -place(v, full));
    let spot = centre + vec2(x.unwrap_or(0.0), y.unwrap_or(0.0)) * radius * 0.86;
    let size = (inner.x.min(inner.y) * 0.75).clamp(radius * 0.06, radius * 0.14);
    match (x, y) {
        (None, None) => {}
        (Some(_), Some(_)) => {
            painter.circle(spot, size, bubble.colour, Stroke::new(2.0, p.ink));
        }
        // Only one axis is known: a bar across the other.
        (Some(_), None) => bar(painter, spot, vec2(size * 0.5, radius * 0.5), bubble.colour),
        (None, Some(_)) => bar(painter, spot, vec2(radius * 0.5, size * 0.5), bubble.colour),
    }
    let (left, right) = if bubble.mirrored { ("outboard", "inboard") } else { ("inboard", "outboard") };
    let font = FontId::proportional(font);
    let words = |at: Pos2, anchor, text: &str| painter.text(at, anchor, text, font.clone(), p.pale);
    words(pos2(centre.x, centre.y - radius - 2.0), Align2::CENTER_BOTTOM, "leading edge");
    words(pos2(centre.x, centre.y + radius + 2.0), Align2::CENTER_TOP, "trailing edge");
    words(pos2(centre.x - radius * 0.97, centre.y - 2.0), Align2::LEFT_BOTTOM, left);
    words(pos2(centre.x + radius * 0.97, centre.y - 2.0), Align2::RIGHT_BOTTOM, right);
}

fn bar(painter: &Painter, at: Pos2, half: egui::Vec2, colour: Color32) {
    painter.rect_filled(Rect::from_center_size(at, half * 2.0), 3.0, colour);
}

fn ellipse(painter: &Painter, centre: Pos2, radii: egui::Vec2, stroke: Stroke) {
    painter.add(egui::Shape::Ellipse(egui::epaint::EllipseShape::stroke(centre, radii, stroke)));
}
