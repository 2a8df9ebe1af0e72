//! The seven marks: solid is proven, half is open, hollow has no evidence. The shape alone decides.

use crate::theme::Palette;
use assess::Verdict;
use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, vec2};

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mark {
    Outside,
    /// Cannot be judged, or required but without a limit.
    Bar,
    /// The readings contradict each other, or what they depend on is in doubt.
    Doubtful,
    /// Proven neither within nor outside.
    Undecided,
    /// Superseded by what happened since.
    Stale,
    Missing,
    /// Proven within, or met.
    Met,
    /// One of two facings is taken.
    Half,
    Unasked,
}

impl Mark {
    /// The seven, worst first.
    pub const SEVEN: [Self; 7] =
        [Self::Outside, Self::Bar, Self::Doubtful, Self::Undecided, Self::Stale, Self::Missing, Self::Met];

    pub const fn of(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Within => Self::Met,
            Verdict::Outside => Self::Outside,
            Verdict::Undecided => Self::Undecided,
            Verdict::Stale => Self::Stale,
            Verdict::Missing => Self::Missing,
            Verdict::Doubtful => Self::Doubtful,
            Verdict::CannotJudge => Self::Bar,
        }
    }

    pub const fn word(self) -> &'static str {
        match self {
            Self::Outside => "outside",
            Self::Bar => "cannot be judged",
            Self::Doubtful => "doubtful",
            Self::Undecided => "undecided",
            Self::Stale => "stale",
            Self::Missing => "missing",
            Self::Met => "within",
            Self::Half => "one of two facings",
            Self::Unasked => "not asked for",
        }
    }

    /// Its word for an obligation: "met" where a value would be "within".
    pub const fn of_an_obligation(self) -> &'static str {
        if let Self::Met = self { "met" } else { self.word() }
    }

    const fn colour(self, p: &Palette) -> Color32 {
        match self {
            Self::Met => p.met,
            Self::Outside => p.outside,
            Self::Undecided | Self::Doubtful => p.open,
            Self::Stale | Self::Missing | Self::Bar | Self::Unasked => p.pale,
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
    match mark {
        Mark::Met => {
            painter.circle_filled(at, r, colour);
        }
        Mark::Outside => {
            painter.add(full(vec![place(0.0, -1.05), place(1.12, 0.95), place(-1.12, 0.95)]));
        }
        Mark::Undecided => {
            let (n, e, s, w) = (place(0.0, -1.2), place(1.2, 0.0), place(0.0, 1.2), place(-1.2, 0.0));
            painter.add(full(vec![n, s, w]));
            painter.add(Shape::closed_line(vec![n, e, s, w], line));
        }
        Mark::Doubtful => {
            let (a, b, c) = (place(-1.12, -0.9), place(1.12, -0.9), place(0.0, 1.05));
            painter.add(full(vec![a, place(0.0, -0.9), c]));
            painter.add(Shape::closed_line(vec![a, b, c], line));
        }
        Mark::Stale => {
            painter.circle_stroke(at, r * 0.95, line);
            painter.line_segment([place(-0.66, 0.66), place(0.66, -0.66)], line);
        }
        Mark::Missing => {
            let square = vec![place(-0.9, -0.9), place(0.9, -0.9), place(0.9, 0.9), place(-0.9, 0.9)];
            painter.add(Shape::closed_line(square, line));
        }
        Mark::Bar => {
            painter.rect_filled(Rect::from_center_size(at, vec2(size * 1.2, size * 0.26)), 0.0, colour);
        }
        Mark::Half => {
            let square = vec![place(-0.9, -0.9), place(0.9, -0.9), place(0.9, 0.9), place(-0.9, 0.9)];
            painter.add(Shape::closed_line(square, line));
            painter.rect_filled(Rect::from_min_max(place(-0.9, 0.0), place(0.9, 0.9)), 0.0, colour);
        }
        Mark::Unasked => {
            painter.circle_filled(at, r * 0.3, colour);
        }
    }
}
