//! What can be drawn.

use crate::text::{Face, Figures};

/// The inks: black and the paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ink {
    Black,
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
    /// Around the verdict.
    pub(crate) const FRAME: Self = Self::new(2.0);
    /// Under a heading.
    pub(crate) const HEADING: Self = Self::new(0.9);
    pub(crate) const LIMIT: Self = Self::new(1.0);
    /// Between rows.
    pub(crate) const ROW: Self = Self::new(0.5);
    pub(crate) const HATCH: Self = Self::new(0.4);
    pub(crate) const GRID: Self = Self { ink: Ink::Black, width: 0.3, dash: Some((0.3, 1.7)) };

    pub(crate) const fn new(width: f64) -> Self {
        Self { ink: Ink::Black, width, dash: None }
    }

    pub(crate) const fn dashed(width: f64, on: f64, off: f64) -> Self {
        Self { ink: Ink::Black, width, dash: Some((on, off)) }
    }
}

/// Which part of a text is at its position.
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
    pub figures: Figures,
    pub text: String,
}

#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Shape {
    Text(Text),
    Path {
        points: Vec<(f64, f64)>,
        closed: bool,
        fill: Option<Ink>,
        pen: Option<Pen>,
    },
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

    /// A full circle.
    pub(crate) const fn disc(x: f64, y: f64, r: f64) -> Self {
        Self::Circle { x, y, r, fill: Some(Ink::Black), pen: None }
    }

    /// A ring with the paper inside.
    pub(crate) const fn ring(x: f64, y: f64, r: f64, pen: Pen) -> Self {
        Self::Circle { x, y, r, fill: Some(Ink::White), pen: Some(pen) }
    }

    /// A ring around what is already there.
    pub(crate) const fn around(x: f64, y: f64, r: f64) -> Self {
        Self::Circle { x, y, r, fill: None, pen: Some(Pen::new(0.9)) }
    }

    pub(crate) fn curve(points: Vec<(f64, f64)>, pen: Pen) -> Self {
        Self::Path { points, closed: false, fill: None, pen: Some(pen) }
    }

    pub(crate) fn rect(x: f64, y: f64, width: f64, height: f64, fill: Option<Ink>, pen: Option<Pen>) -> Self {
        let points = vec![(x, y), (x + width, y), (x + width, y + height), (x, y + height)];
        Self::Path { points, closed: true, fill, pen }
    }

    pub(crate) fn text(x: f64, y: f64, size: f64, face: Face, text: impl Into<String>) -> Self {
        let (ink, anchor, figures) = (Ink::Black, Anchor::Start, Figures::AsDrawn);
        Self::Text(Text { x, y, size, face, ink, anchor, figures, text: text.into() })
    }

    /// Whether it can be drawn: every coordinate is a number.
    pub(crate) fn is_finite(&self) -> bool {
        let finite = |(x, y): &(f64, f64)| x.is_finite() && y.is_finite();
        match self {
            Self::Text(text) => text.x.is_finite() && text.y.is_finite(),
            Self::Path { points, .. } => points.iter().all(finite),
            Self::Circle { x, y, .. } => x.is_finite() && y.is_finite(),
            Self::Lines { ends, .. } => ends.iter().flatten().all(finite),
        }
    }

    /// The same with this change, if it is a text.
    fn with(mut self, change: impl FnOnce(&mut Text)) -> Self {
        if let Self::Text(text) = &mut self {
            change(text);
        }
        self
    }

    /// The same in white, if it is a text.
    pub(crate) fn white(self) -> Self {
        self.with(|text| text.ink = Ink::White)
    }

    /// The same with another anchor, if it is a text.
    pub(crate) fn anchored(self, anchor: Anchor) -> Self {
        self.with(|text| text.anchor = anchor)
    }

    /// The same with figures in cells, if it is a text.
    pub(crate) fn in_cells(self) -> Self {
        self.with(|text| text.figures = Figures::InCells)
    }
}
