//! What charts share: axes, dashed limits, a curve with its band, bars, a spread of many columns.

use crate::draw::text::{Hand, Weight, put, row};
use crate::screens::Cx;
use crate::words;
use egui::{Align, Color32, Mesh, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};
use quantity::shown::{self, Scale};

/// How many neighbouring columns of a spread are drawn as one piece, as far as they have a common part.
const TOGETHER: usize = 16;

/// From one number to another.
#[derive(Clone, Copy, Debug)]
pub struct Span {
    pub from: f64,
    pub to: f64,
}

impl Span {
    /// From the least to the most.
    pub fn over(values: impl Iterator<Item = f64>) -> Self {
        let none = Self { from: f64::INFINITY, to: f64::NEG_INFINITY };
        values.fold(none, |span, v| Self { from: span.from.min(v), to: span.to.max(v) })
    }

    fn share(self, value: f64) -> f64 {
        (value - self.from) / (self.to - self.from).abs().max(1e-12)
    }
}

/// Which way x grows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grows {
    Right,
    Left,
}

/// A value at a place.
#[derive(Clone, Copy, Debug)]
pub struct At {
    pub x: f64,
    pub y: f64,
}

/// The least and the most that a chart shows at a place.
#[derive(Clone, Copy, Debug)]
pub struct Column {
    pub x: f64,
    pub low: f64,
    pub high: f64,
}

/// A chart's place on the screen and the ranges of its axes.
#[derive(Clone, Copy, Debug)]
pub struct Chart {
    pub rect: Rect,
    pub x: Span,
    /// In the unit shown.
    pub y: Span,
    /// How values are shown; they are given in the base unit.
    pub scale: Scale,
    pub grows: Grows,
}

impl Chart {
    /// A chart that holds these values with some room around them.
    pub fn around(
        rect: Rect,
        x: Span,
        values: impl Iterator<Item = f64>,
        grows: Grows,
        scale: Scale,
    ) -> Self {
        let all = Span::over(values.map(|v| scale.number(v)).filter(|v| v.is_finite()));
        let Span { from, to } = if all.from > all.to { Span { from: -1.0, to: 1.0 } } else { all };
        let room = ((to - from) * 0.1).max(1e-6);
        Self { rect, x, y: Span { from: from - room, to: to + room }, scale, grows }
    }

    /// Leaves a row free above the values, for what they mean.
    pub fn leave_a_row(&mut self) {
        self.y.to += (self.y.to - self.y.from) * f64::from(26.0 / self.rect.height());
    }

    pub fn at(&self, x: f64, y: f64) -> Pos2 {
        self.at_number(x, self.scale.number(y))
    }

    /// Where a number of the y axis is.
    fn at_number(&self, x: f64, y: f64) -> Pos2 {
        #[expect(clippy::cast_possible_truncation, reason = "places on the screen")]
        let (h, v) = (self.x.share(x) as f32, self.y.share(y) as f32);
        let h = if self.grows == Grows::Left { 1.0 - h } else { h };
        let side = 22.0;
        let left = self.rect.left() + side;
        pos2(left + h * (self.rect.width() - 2.0 * side), self.rect.bottom() - v * self.rect.height())
    }

    /// A step of the y axis that leaves room for its labels.
    pub fn step(&self) -> f64 {
        let most = (f64::from(self.rect.height()) / 40.0).max(2.0);
        shown::round_step((self.y.to - self.y.from) / most)
    }

    /// Thin lines across, with their values at the left; none close to one of `taken`.
    pub fn lines(&self, painter: &Painter, cx: &Cx<'_>, taken: &[f64]) {
        let step = self.step();
        let places = shown::step_decimals(step).max(1);
        let mut value = (self.y.from / step).ceil() * step;
        while value <= self.y.to {
            let at = self.at_number(self.x.from, value).y;
            let near = |t: &f64| (self.at(self.x.from, *t).y - at).abs() < 22.0;
            painter.hline(self.rect.x_range(), at, Stroke::new(1.0, cx.p.rule));
            let clear = at > self.rect.top() + 8.0 && at < self.rect.bottom() - 8.0;
            if clear && !taken.iter().any(near) {
                self.label(painter, cx, value, places, Weight::Medium);
            }
            value += step;
        }
    }

    /// A number of the y axis, at the left of the chart.
    pub fn label(&self, painter: &Painter, cx: &Cx<'_>, value: f64, places: usize, weight: Weight) {
        let y = self.at_number(self.x.from, value).y;
        let at = row(self.rect.left() - 58.0, self.rect.left() - 8.0, y, 14.0);
        let size = cx.g.pick(17.0, 19.0);
        let hand = match weight {
            Weight::Heavy => Hand::heavy(size, cx.p.ink),
            Weight::Medium => Hand::medium(size, cx.p.pale),
        };
        let text = &words::minus(&self.scale.signed(self.scale.unit().to_base(value), places));
        put(painter, at, Align::Max, hand.least(15.0), text);
    }

    pub fn limit(&self, painter: &Painter, cx: &Cx<'_>, value: f64) {
        let y = self.at(self.x.from, value).y;
        let ends = [pos2(self.rect.left(), y), pos2(self.rect.right(), y)];
        painter.extend(Shape::dashed_line(&ends, Stroke::new(3.0, cx.p.ink), 12.0, 7.0));
    }

    /// A band between two curves.
    pub fn band(&self, painter: &Painter, columns: impl Iterator<Item = Column>, colour: Color32) {
        let mut mesh = Mesh::default();
        let ends = columns.map(|c| [self.at(c.x, c.low), self.at(c.x, c.high)]);
        strip(&mut mesh, ends, colour);
        painter.add(Shape::mesh(mesh));
    }

    /// Many columns from their least to their most, each reaching to the next one, and never thinner than a line.
    ///
    /// A renderer on the processor is slowest with narrow tall pieces. So the part that neighbouring columns have in
    /// common is one piece, and only their ends are drawn column by column.
    pub fn spread(&self, painter: &Painter, columns: impl Iterator<Item = Column>, colour: Color32) {
        let own: Vec<[Pos2; 2]> = columns
            .map(|c| [self.at(c.x, c.high) - vec2(0.0, 0.75), self.at(c.x, c.low) + vec2(0.0, 0.75)])
            .collect();
        let joined: Vec<[Pos2; 2]> = own
            .iter()
            .zip(own.iter().skip(1).chain(own.last()))
            .map(|([top, bottom], [next_top, next_bottom])| {
                [pos2(top.x, top.y.min(next_bottom.y)), pos2(bottom.x, bottom.y.max(next_top.y))]
            })
            .collect();
        let mut mesh = Mesh::default();
        for first in (0..joined.len()).step_by(TOGETHER) {
            // With the first column of the next piece, so that there is no gap between them.
            let piece = joined.iter().skip(first).take(TOGETHER + 1);
            let (top, bottom) =
                piece.clone().fold((f32::NEG_INFINITY, f32::INFINITY), |(top, bottom), [a, b]| {
                    (top.max(a.y), bottom.min(b.y))
                });
            if top >= bottom {
                strip(&mut mesh, piece.copied(), colour);
                continue;
            }
            strip(&mut mesh, piece.clone().map(|[a, _]| [*a, pos2(a.x, top)]), colour);
            let ends = piece.clone().next().into_iter().chain(piece.clone().next_back());
            strip(&mut mesh, ends.map(|[a, _]| [pos2(a.x, top), pos2(a.x, bottom)]), colour);
            strip(&mut mesh, piece.map(|[_, b]| [pos2(b.x, bottom), *b]), colour);
        }
        painter.add(Shape::mesh(mesh));
    }

    pub fn curve(&self, painter: &Painter, points: impl Iterator<Item = At>, line: Stroke) {
        painter.add(Shape::line(points.map(|p| self.at(p.x, p.y)).collect(), line));
    }

    /// A bar with caps over a 95 % interval.
    pub fn bar(&self, painter: &Painter, of: Column, colour: Color32) {
        let [a, b] = [of.low, of.high].map(|y| self.at(of.x, y));
        let line = Stroke::new(2.5, colour);
        painter.line_segment([a, b], line);
        for end in [a, b] {
            painter.hline(end.x - 6.0..=end.x + 6.0, end.y, line);
        }
    }
}

fn strip(mesh: &mut Mesh, ends: impl Iterator<Item = [Pos2; 2]>, colour: Color32) {
    let first = u32::try_from(mesh.vertices.len()).unwrap_or(0);
    ends.flatten().for_each(|at| mesh.colored_vertex(at, colour));
    let last = u32::try_from(mesh.vertices.len()).unwrap_or(0);
    for i in (first..last.saturating_sub(2)).step_by(2) {
        mesh.add_triangle(i, i + 1, i + 2);
        mesh.add_triangle(i + 1, i + 2, i + 3);
    }
}
