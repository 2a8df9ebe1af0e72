//! The marks as they are drawn: those of the verdicts, and two for what is still to be measured.

use crate::theme::Palette;
use assess::view::{MarkShape, Tone, Verdict};
use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, vec2};

/// What a mark stands for; later ones are worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mark {
    Unasked,
    /// One of two facings is taken.
    Half,
    Of(Verdict),
}

impl From<Verdict> for Mark {
    fn from(verdict: Verdict) -> Self {
        Self::Of(verdict)
    }
}

impl Mark {
    /// The mark of an existing value: without a verdict it is required but has no limit.
    pub fn of(verdict: Option<Verdict>) -> Self {
        Self::Of(verdict.unwrap_or(Verdict::CannotJudge))
    }

    /// True if a required point is still to be measured, or measured again.
    pub const fn is_to_measure(self) -> bool {
        matches!(self, Self::Half | Self::Of(Verdict::Missing | Verdict::Stale))
    }

    pub const fn word(self) -> &'static str {
        match self {
            Self::Unasked => "not asked for",
            Self::Half => "one of two facings",
            Self::Of(verdict) => verdict.word(),
        }
    }

    const fn colour(self, p: &Palette) -> Color32 {
        match self {
            Self::Of(verdict) => match verdict.tone() {
                Tone::Met => p.met,
                Tone::Outside => p.outside,
                Tone::Open => p.open,
                Tone::Bare => p.pale,
            },
            Self::Unasked => p.pale,
            Self::Half => p.ink,
        }
    }
}

/// Draws a mark of that size (its width and height), centred at a place.
pub fn draw(painter: &Painter, p: &Palette, at: Pos2, size: f32, mark: Mark) {
    let colour = mark.colour(p);
    let r = size / 2.0;
    let line = Stroke::new((size * 0.13).max(1.8), colour);
    let place = |x: f32, y: f32| at + vec2(x * r, y * r);
    let full = |points: Vec<Pos2>| Shape::convex_polygon(points, colour, Stroke::NONE);
    let shape = match mark {
        Mark::Of(verdict) => verdict.mark(),
        Mark::Half => {
            let square = vec![place(-0.9, -0.9), place(0.9, -0.9), place(0.9, 0.9), place(-0.9, 0.9)];
            painter.add(Shape::closed_line(square, line));
            painter.rect_filled(Rect::from_min_max(place(-0.9, 0.0), place(0.9, 0.9)), 0.0, colour);
            return;
        }
        Mark::Unasked => {
            painter.circle_filled(at, r * 0.3, colour);
            return;
        }
    };
    match shape {
        MarkShape::Circle => {
            painter.circle_filled(at, r, colour);
        }
        MarkShape::Triangle => {
            painter.add(full(vec![place(0.0, -1.05), place(1.12, 0.95), place(-1.12, 0.95)]));
        }
        MarkShape::HalfDiamond => {
            let (n, e, s, w) = (place(0.0, -1.2), place(1.2, 0.0), place(0.0, 1.2), place(-1.2, 0.0));
            painter.add(full(vec![n, s, w]));
            painter.add(Shape::closed_line(vec![n, e, s, w], line));
        }
        MarkShape::HalfTriangle => {
            let (a, b, c) = (place(-1.12, -0.9), place(1.12, -0.9), place(0.0, 1.05));
            painter.add(full(vec![a, place(0.0, -0.9), c]));
            painter.add(Shape::closed_line(vec![a, b, c], line));
        }
        MarkShape::StruckRing => {
            painter.circle_stroke(at, r * 0.95, line);
            painter.line_segment([place(-0.66, 0.66), place(0.66, -0.66)], line);
        }
        MarkShape::Square => {
            let square = vec![place(-0.9, -0.9), place(0.9, -0.9), place(0.9, 0.9), place(-0.9, 0.9)];
            painter.add(Shape::closed_line(square, line));
        }
        MarkShape::Bar => {
            painter.rect_filled(Rect::from_center_size(at, vec2(size * 1.2, size * 0.26)), 0.0, colour);
        }
    }
}
