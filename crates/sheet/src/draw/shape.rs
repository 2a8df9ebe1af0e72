//! What can be drawn.

use crate::text::Face;

/// The inks. All of them can be told apart in grey, and none carries a meaning alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ink {
    /// Text and anything that must be seen.
    Black,
    /// Text of second rank.
    Slate,
    /// Frames and ticks.
    Grey,
    /// Hairlines between rows, grid lines.
    Pale,
    /// The fitted line.
    Blue,
    /// The band of the fit.
    Sky,
    /// The paper.
    White,
}

/// A line's width, ink and dashes (on and off, in points).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pen {
    pub ink: Ink,
    pub width: f64,
    pub dash: Option<(f64, f64)>,
}

impl Pen {
    pub(crate) const fn new(ink: Ink, width: f64) -> Self {
        Self { ink, width, dash: None }
    }

    pub(crate) const fn dashed(ink: Ink, width: f64, on: f64, off: f64) -> Self {
        Self { ink, width, dash: Some((on, off)) }
    }
}

/// Which part of a text is at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

/// A line of printable text; `y` is its baseline.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Text {
    pub x: f64,
    pub y: f64,
    pub size: f64,
    pub face: Face,
    pub ink: Ink,
    pub anchor: Anchor,
    /// True for text that is read from the bottom up.
    pub upward: bool,
    pub text: String,
}

/// Something drawn.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Shape {
    Text(Text),
    /// A line or an area through these points.
    Path {
        points: Vec<(f64, f64)>,
        closed: bool,
        fill: Option<Ink>,
        pen: Option<Pen>,
    },
    /// A circle.
    Circle {
        x: f64,
        y: f64,
        r: f64,
        fill: Option<Ink>,
        pen: Option<Pen>,
    },
    /// Many separate lines with one pen.
    Lines {
        ends: Vec<[(f64, f64); 2]>,
        pen: Pen,
    },
}

impl Shape {
    pub(crate) fn line(x1: f64, y1: f64, x2: f64, y2: f64, pen: Pen) -> Self {
        Self::Lines { ends: vec![[(x1, y1), (x2, y2)]], pen }
    }

    pub(crate) fn area(points: Vec<(f64, f64)>, fill: Ink) -> Self {
        Self::Path { points, closed: true, fill: Some(fill), pen: None }
    }

    pub(crate) fn curve(points: Vec<(f64, f64)>, pen: Pen) -> Self {
        Self::Path { points, closed: false, fill: None, pen: Some(pen) }
    }

    pub(crate) fn rect(x: f64, y: f64, width: f64, height: f64, fill: Option<Ink>, pen: Option<Pen>) -> Self {
        let points = vec![(x, y), (x + width, y), (x + width, y + height), (x, y + height)];
        Self::Path { points, closed: true, fill, pen }
    }

    pub(crate) fn text(x: f64, y: f64, size: f64, face: Face, text: impl Into<String>) -> Self {
        let (ink, anchor, upward) = (Ink::Black, Anchor::Start, false);
        Self::Text(Text { x, y, size, face, ink, anchor, upward, text: text.into() })
    }

    /// True if it can be drawn: every place in it is a number.
    pub(crate) fn is_finite(&self) -> bool {
        let finite = |(x, y): &(f64, f64)| x.is_finite() && y.is_finite();
        match self {
            Self::Text(text) => text.x.is_finite() && text.y.is_finite(),
            Self::Path { points, .. } => points.iter().all(finite),
            Self::Circle { x, y, .. } => x.is_finite() && y.is_finite(),
            Self::Lines { ends, .. } => ends.iter().flatten().all(finite),
        }
    }

    /// The same with another ink, if it is a text.
    pub(crate) fn inked(mut self, ink: Ink) -> Self {
        if let Self::Text(text) = &mut self {
            text.ink = ink;
        }
        self
    }

    /// The same anchored elsewhere, if it is a text.
    pub(crate) fn anchored(mut self, anchor: Anchor) -> Self {
        if let Self::Text(text) = &mut self {
            text.anchor = anchor;
        }
        self
    }

    /// The same read from the bottom up, if it is a text.
    pub(crate) fn upward(mut self) -> Self {
        if let Self::Text(text) = &mut self {
            text.upward = true;
        }
        self
    }
}
