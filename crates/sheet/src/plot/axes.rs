//! Scales, ticks and the frame of a plot along the span.

use crate::draw::{Anchor, Ink, Pen, Shape};
use crate::text::{Face, Typesetter};
use quantity::shown::fixed;

/// A linear scale from values to points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    low: f64,
    high: f64,
    from: f64,
    to: f64,
}

impl Scale {
    /// A scale over these values; they need not be in order. Never of no width.
    pub(super) fn over(values: impl IntoIterator<Item = f64>, spare: f64, least: f64) -> Self {
        let finite = values.into_iter().filter(|v| v.is_finite());
        let (low, high) = finite.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        let (low, high) = if low <= high { (low, high) } else { (0.0, 0.0) };
        let pad = ((high - low) * spare).max((least - (high - low)) / 2.0).max(0.0);
        Self { low: low - pad, high: high + pad, from: 0.0, to: 1.0 }
    }

    /// The same from one place to another.
    pub(super) const fn onto(mut self, from: f64, to: f64) -> Self {
        self.from = from;
        self.to = to;
        self
    }

    /// The place of a value.
    pub(super) fn at(self, value: f64) -> f64 {
        self.from + (self.to - self.from) * (value - self.low) / (self.high - self.low)
    }

    /// The place of a value, kept inside.
    pub(super) fn inside(self, value: f64) -> f64 {
        self.at(value.clamp(self.low, self.high))
    }

    /// Round values, about that many, and the decimal places they need.
    pub(super) fn ticks(self, about: f64) -> (Vec<f64>, usize) {
        let raw = (self.high - self.low) / about.max(1.0);
        let text = format!("{raw:e}");
        let exponent: i32 = text.split('e').nth(1).and_then(|e| e.parse().ok()).unwrap_or(0);
        let power: f64 = format!("1e{exponent}").parse().unwrap_or(1.0);
        let (step, down) = [(1.0, 0), (2.0, 0), (5.0, 0)]
            .into_iter()
            .find(|(factor, _)| factor * power >= raw * 0.8)
            .map_or((10.0 * power, 1), |(factor, down)| (factor * power, down));
        let places = usize::try_from(-(exponent + down)).unwrap_or(0);
        let first = (self.low / step - 1e-9).ceil();
        let values =
            (0..60).map(|i| (first + f64::from(i)) * step).take_while(|v| *v <= self.high + step * 1e-9);
        (values.collect(), places)
    }
}

/// The area of a plot between its axes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Area {
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub bottom: f64,
}

impl Area {
    /// Values at the left, with grid lines.
    pub(super) fn value_axis(self, values: Scale, size: f64) -> Vec<Shape> {
        let (ticks, places) = values.ticks((self.bottom - self.top) / 28.0);
        let mut shapes = Vec::new();
        for tick in ticks {
            let y = values.at(tick);
            let zero = tick.abs() < 1e-12;
            let pen = if zero { Pen::new(Ink::Slate, 0.7) } else { Pen::new(Ink::Pale, 0.4) };
            shapes.push(Shape::line(self.left, y, self.right, y, pen));
            let text = fixed(tick, places);
            let shape = Shape::text(self.left - 4.0, y + size * 0.34, size, Face::Book, text);
            shapes.push(shape.inked(Ink::Slate).anchored(Anchor::End));
        }
        shapes
    }

    /// A title for the values, read upward at the left edge; the first of the two that fits.
    pub(super) fn value_title(
        self,
        set: &Typesetter,
        x: f64,
        (long, short): (&str, &str),
        size: f64,
    ) -> Shape {
        let middle = f64::midpoint(self.top, self.bottom);
        let text = if set.width(Face::Book, size, long) <= self.bottom - self.top { long } else { short };
        Shape::text(x, middle, size, Face::Book, text).inked(Ink::Slate).anchored(Anchor::Middle).upward()
    }

    /// Stations below the area: a tick for each, its name where there is room, then round spans.
    pub(super) fn span_axis(
        self,
        set: &Typesetter,
        spans: Scale,
        stations: &[(f64, String)],
        size: f64,
    ) -> Vec<Shape> {
        let mut ends: Vec<[(f64, f64); 2]> = Vec::new();
        let mut shapes = Vec::new();
        let mut free = f64::NEG_INFINITY;
        for (span, name) in stations {
            let x = spans.at(*span);
            let width = set.width(Face::Book, size, name);
            let named = x - width / 2.0 > free;
            ends.push([(x, self.bottom), (x, self.bottom + if named { 4.0 } else { 2.5 })]);
            if named {
                let text = Shape::text(x, self.bottom + 4.5 + size, size, Face::Book, name.as_str());
                shapes.push(text.anchored(Anchor::Middle));
                free = x + width / 2.0 + size * 0.4;
            }
        }
        let (ticks, places) = spans.ticks((self.right - self.left) / (size * 9.0));
        let level = self.bottom + 4.5 + size * 2.35;
        for tick in ticks {
            let text = Shape::text(spans.at(tick), level, size * 0.92, Face::Book, fixed(tick, places));
            shapes.push(text.inked(Ink::Slate).anchored(Anchor::Middle));
        }
        let title = Shape::text(self.left - 4.0, level, size * 0.92, Face::Book, "span, mm");
        shapes.push(title.inked(Ink::Slate).anchored(Anchor::End));
        shapes.push(Shape::Lines { ends, pen: Pen::new(Ink::Slate, 0.6) });
        shapes
    }

    /// The frame around it.
    pub(super) fn frame(self) -> Shape {
        let (width, height) = (self.right - self.left, self.bottom - self.top);
        Shape::rect(self.left, self.top, width, height, None, Some(Pen::new(Ink::Slate, 0.7)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_inside() {
        let (ticks, places) = Scale::over([-0.3, 0.3], 0.0, 0.0).ticks(6.0);
        let shown: Vec<String> = ticks.iter().map(|t| fixed(*t, places)).collect();
        assert_eq!(shown, ["-0.3", "-0.2", "-0.1", "0.0", "0.1", "0.2", "0.3"]);
        let (ticks, places) = Scale::over([300.0, 3900.0], 0.0, 0.0).ticks(8.0);
        assert_eq!((ticks.first().copied(), ticks.last().copied(), places), (Some(500.0), Some(3500.0), 0));
    }

    #[test]
    fn a_scale_always_has_a_width() {
        for values in [vec![], vec![f64::NAN], vec![2.0], vec![1e-300]] {
            let scale = Scale::over(values, 0.1, 0.1).onto(0.0, 100.0);
            assert!(scale.at(0.5).is_finite());
            assert!(!scale.ticks(5.0).0.is_empty());
        }
    }
}
