//! What charts along the span share: axes, dashed limits, a curve with its band, bars.

use crate::draw::text::{Hand, put, row};
use crate::screens::Cx;
use crate::words;
use egui::{Align, Color32, Mesh, Painter, Pos2, Rect, Shape, Stroke, pos2};

/// A chart's place on the screen and what it spans.
#[derive(Clone, Copy, Debug)]
pub struct Chart {
    /// Where it is drawn.
    pub rect: Rect,
    /// Smallest and largest x.
    pub x: (f64, f64),
    /// Smallest and largest y.
    pub y: (f64, f64),
    /// True where x grows to the left.
    pub mirrored: bool,
}

impl Chart {
    /// A chart that holds these values with some room around them.
    #[must_use]
    pub fn around(rect: Rect, x: (f64, f64), values: impl Iterator<Item = f64>, mirrored: bool) -> Self {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for v in values.filter(|v| v.is_finite()) {
            (low, high) = (low.min(v), high.max(v));
        }
        if low > high {
            (low, high) = (-1.0, 1.0);
        }
        let room = ((high - low) * 0.1).max(1e-6);
        Self { rect, x, y: (low - room, high + room), mirrored }
    }

    /// Where a value lies.
    #[must_use]
    pub fn at(&self, x: f64, y: f64) -> Pos2 {
        let share = |v: f64, (a, b): (f64, f64)| (v - a) / (b - a).abs().max(1e-12);
        #[expect(clippy::cast_possible_truncation, reason = "places on the screen")]
        let (h, v) = (share(x, self.x) as f32, share(y, self.y) as f32);
        let h = if self.mirrored { 1.0 - h } else { h };
        let side = 22.0;
        let left = self.rect.left() + side;
        pos2(left + h * (self.rect.width() - 2.0 * side), self.rect.bottom() - v * self.rect.height())
    }

    /// A step of the y axis that leaves room for its labels.
    #[must_use]
    pub fn step(&self) -> f64 {
        let most = (f64::from(self.rect.height()) / 40.0).max(2.0);
        let rough = (self.y.1 - self.y.0) / most;
        let ten = 10_f64.powf(rough.log10().floor());
        [1.0, 2.0, 5.0, 10.0].into_iter().map(|k| k * ten).find(|s| *s >= rough).unwrap_or(rough)
    }

    /// Thin lines across, with their values at the left; none where one of `taken` is near.
    pub fn lines(&self, painter: &Painter, cx: &Cx<'_>, taken: &[f64]) {
        let step = self.step();
        let places = words::decimals(step).max(1);
        let mut value = (self.y.0 / step).ceil() * step;
        while value <= self.y.1 {
            let at = self.at(self.x.0, value).y;
            let near = |t: &f64| (self.at(self.x.0, *t).y - at).abs() < 22.0;
            painter.hline(self.rect.x_range(), at, Stroke::new(1.0, cx.p.rule));
            let clear = at > self.rect.top() + 8.0 && at < self.rect.bottom() - 8.0;
            if clear && !taken.iter().any(near) {
                self.label(painter, cx, value, places, false);
            }
            value += step;
        }
    }

    /// A value of the y axis, at the left of the chart.
    pub fn label(&self, painter: &Painter, cx: &Cx<'_>, value: f64, places: usize, heavy: bool) {
        let y = self.at(self.x.0, value).y;
        let at = row(self.rect.left() - 58.0, self.rect.left() - 8.0, y, 14.0);
        let size = cx.g.pick(17.0, 19.0);
        let hand = if heavy { Hand::heavy(size, cx.p.ink) } else { Hand::medium(size, cx.p.pale) };
        put(painter, at, Align::Max, hand.least(15.0), &words::signed(value, places));
    }

    /// A limit across.
    pub fn limit(&self, painter: &Painter, cx: &Cx<'_>, value: f64) {
        let y = self.at(self.x.0, value).y;
        let ends = [pos2(self.rect.left(), y), pos2(self.rect.right(), y)];
        painter.extend(Shape::dashed_line(&ends, Stroke::new(3.0, cx.p.ink), 12.0, 7.0));
    }

    /// A band between two curves.
    pub fn band(&self, painter: &Painter, points: &[(f64, f64, f64)], colour: Color32) {
        let mut mesh = Mesh::default();
        for (x, low, high) in points {
            for y in [low, high] {
                mesh.colored_vertex(self.at(*x, *y), colour);
            }
        }
        let n = u32::try_from(points.len()).unwrap_or(0);
        for i in 0..n.saturating_sub(1) {
            mesh.add_triangle(2 * i, 2 * i + 1, 2 * i + 2);
            mesh.add_triangle(2 * i + 1, 2 * i + 2, 2 * i + 3);
        }
        painter.add(Shape::mesh(mesh));
    }

    /// A curve.
    pub fn curve(&self, painter: &Painter, points: impl Iterator<Item = (f64, f64)>, line: Stroke) {
        painter.add(Shape::line(points.map(|(x, y)| self.at(x, y)).collect(), line));
    }

    /// A bar with caps: half the width of a 95 % interval each way.
    pub fn bar(&self, painter: &Painter, x: f64, ends: [f64; 2], colour: Color32) {
        let [a, b] = ends.map(|y| self.at(x, y));
        let line = Stroke::new(2.5, colour);
        painter.line_segment([a, b], line);
        for end in [a, b] {
            painter.hline(end.x - 6.0..=end.x + 6.0, end.y, line);
        }
    }
}
