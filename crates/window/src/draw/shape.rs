//! Frames: plain, chosen, dashed.

use egui::{Color32, CornerRadius, Painter, Rangef, Rect, Shape, Stroke, StrokeKind, pos2};

/// Radius of every corner.
pub const CORNER: u8 = 6;

pub fn frame(painter: &Painter, rect: Rect, fill: Color32, line: Stroke) {
    painter.rect(rect, CornerRadius::same(CORNER), fill, line, StrokeKind::Inside);
}

/// A frame of dashes, with nothing in it.
pub fn dashed(painter: &Painter, rect: Rect, line: Stroke) {
    let r = rect.shrink(line.width / 2.0);
    let c = f32::from(CORNER);
    let path = [
        [pos2(r.left() + c, r.top()), pos2(r.right() - c, r.top())],
        [pos2(r.right(), r.top() + c), pos2(r.right(), r.bottom() - c)],
        [pos2(r.right() - c, r.bottom()), pos2(r.left() + c, r.bottom())],
        [pos2(r.left(), r.bottom() - c), pos2(r.left(), r.top() + c)],
    ];
    for side in path {
        painter.extend(Shape::dashed_line(&side, line, 7.0, 5.0));
    }
}

pub fn rule(painter: &Painter, x: impl Into<Rangef>, y: f32, colour: Color32) {
    painter.hline(x, y, Stroke::new(1.0, colour));
}
