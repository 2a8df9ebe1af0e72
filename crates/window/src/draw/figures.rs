//! Figures in cells of equal width, so that a number does not move while its last digit changes.

use super::text::CAP;
use crate::theme::heavy;
use egui::{Color32, FontId, Painter, Pos2, Stroke, pos2};

/// Width of a digit's cell and of a point's, relative to the size.
const DIGIT: f32 = 0.55;
const POINT: f32 = 0.24;
/// Size of the degree sign, relative to the figures.
const SIGN: f32 = 0.34;

/// Figures with the sign of their unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures<'a> {
    /// The figures, a true minus sign among them.
    pub text: &'a str,
    /// True to add a degree sign.
    pub degrees: bool,
    pub colour: Color32,
}

fn cell(c: char) -> f32 {
    if matches!(c, '.' | '\'' | '\u{2032}' | '°' | ' ') { POINT } else { DIGIT }
}

impl Figures<'_> {
    /// Width relative to the size.
    pub fn cells(&self) -> f32 {
        let sign = if self.degrees { SIGN } else { 0.0 };
        self.text.chars().map(cell).sum::<f32>() + sign
    }

    /// The size that fits a width and a height of capitals, at most `most`.
    pub fn fitting(&self, width: f32, height: f32, most: f32) -> f32 {
        (width / self.cells().max(0.1)).min(height / CAP).min(most).floor()
    }

    /// Paints them with the left end and the middle of their height at a place; returns their right end.
    pub fn paint(&self, painter: &Painter, left: f32, middle: f32, size: f32) -> f32 {
        let font = FontId::new(size, heavy());
        let top = middle + CAP * size / 2.0 - size;
        let mut x = left;
        for c in self.text.chars() {
            let wide = cell(c) * size;
            if !c.is_whitespace() {
                let galley = painter.layout_no_wrap(c.to_string(), font.clone(), self.colour);
                let at = pos2(x + (wide - galley.size().x) / 2.0, top.round());
                painter.galley(at, galley, self.colour);
            }
            x += wide;
        }
        if self.degrees {
            let r = size * 0.075;
            let stroke = Stroke::new((size * 0.05).max(1.4), self.colour);
            let high = middle - CAP * size / 2.0 + r + stroke.width / 2.0;
            painter.circle_stroke(Pos2::new(x + size * 0.04 + r + stroke.width / 2.0, high), r, stroke);
            x += SIGN * size;
        }
        x
    }
}
