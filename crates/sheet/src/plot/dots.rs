//! Dots by place: values with their 95 % bars, limits with the area beyond them hatched, a curve with its band.

use super::mark;
use super::scale::Scale;
use super::style::PAPER_TEXT;
use crate::draw::{Anchor, Pen, Shape, hatch, many};
use crate::flow::Area;
use crate::text::{Face, Typesetter};
use assess::view::Verdict;
use quantity::Unit;
use quantity::shown::{K95, Scale as Shown, fixed, signed, step_decimals};

#[derive(Clone, Debug, Default)]
pub(crate) struct Dot {
    /// Position along the picture.
    pub x: f64,
    pub name: String,
    /// Printed under the name.
    pub under: String,
    pub value: Option<f64>,
    /// Ends of the 95 % interval.
    pub ends: Option<[f64; 2]>,
    /// Its value before a move, or at the stage before.
    pub before: Option<f64>,
    /// Its mark; a small dot if it is not judged.
    pub state: Option<Verdict>,
    /// Whether it stands out from the others.
    pub ringed: bool,
}

impl Dot {
    /// A value with its 95 % interval, from its standard uncertainty.
    pub(crate) fn measured(x: f64, value: f64, u: f64) -> Self {
        Self { x, value: Some(value), ends: Some([value - K95 * u, value + K95 * u]), ..Self::default() }
    }
}

/// A curve with its band at one place.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Band {
    pub x: f64,
    pub value: f64,
    pub half: f64,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Ticks {
    /// Round values with a dotted grid.
    Round,
    #[default]
    Limits,
}

/// A picture of values by place.
#[derive(Clone, Debug, Default)]
pub(crate) struct Dots {
    pub dots: Vec<Dot>,
    pub limits: [Option<f64>; 2],
    pub band: Vec<Band>,
    pub ticks: Ticks,
    /// Whether values have a sign.
    pub signed: bool,
    /// Whether dots are joined by a line.
    pub joined: bool,
    /// Whether the picture runs from right to left.
    pub reversed: bool,
    /// Places that the picture must include besides the dots.
    pub reach: Vec<f64>,
    /// Values that it must include besides those of the dots.
    pub include: Vec<f64>,
    /// The unit its values are in; `None` for shares of a limit, which have none.
    pub unit: Option<Shown>,
}

/// A value at the left of the frame, as written.
struct Label {
    value: f64,
    text: String,
    face: Face,
}

/// The least that a picture reaches over, so that no two values at its left read alike.
const FINEST: f64 = 0.002;
/// Space for the values at the left.
const LEFT: f64 = 27.0;

impl Dots {
    /// Height of what is written below the frame.
    fn foot(&self) -> f64 {
        if self.dots.iter().any(|d| !d.under.is_empty()) { 22.0 } else { 12.0 }
    }

    /// The same with its values, so far in the base unit, in the unit they are shown in.
    pub(crate) fn in_unit(mut self, scale: Shown) -> Self {
        let number = |v: f64| scale.number(v);
        for dot in &mut self.dots {
            dot.value = dot.value.map(number);
            dot.ends = dot.ends.map(|ends| ends.map(number));
            dot.before = dot.before.map(number);
        }
        // A limit is drawn at the figure beside it.
        let limit = |v: f64| scale.exact(v).parse().unwrap_or_else(|_| scale.number(v));
        self.limits = self.limits.map(|l| l.map(limit));
        for band in &mut self.band {
            (band.value, band.half) = (number(band.value), scale.size(band.half));
        }
        self.include.iter_mut().for_each(|v| *v = number(*v));
        self.unit = Some(scale);
        self
    }

    /// The picture in an area, with text of the size of text on paper.
    pub(crate) fn draw(&self, set: &Typesetter, area: Area) -> Vec<Shape> {
        let height = area.height - 3.0 - self.foot();
        let labels = self.labels(height);
        let wide = |label: &Label| set.width(label.face, PAPER_TEXT, &label.text) + 5.0;
        let left = labels.iter().map(wide).fold(LEFT, f64::max);
        let (x, y, width) = (area.x + left, area.y + 3.0, area.width - left - 0.5);
        let frame = Area { x, y, width, height };
        let mut places: Vec<f64> = self.dots.iter().map(|d| d.x).collect();
        places.extend(&self.reach);
        let pad = (frame.width * 0.05).clamp(8.0, 18.0);
        let (from, to) = (frame.x + pad, frame.right() - pad);
        let (from, to) = if self.reversed { (to, from) } else { (from, to) };
        let xs = Scale::over(places, 0.0, 1e-6).onto(from, to);
        let ys = self.values().onto(frame.bottom(), frame.y);
        let mut shapes = self.beyond(frame, ys);
        shapes.extend(self.axis(labels, frame, ys));
        shapes.extend(self.curve(xs, ys));
        shapes.extend(self.marks(frame, xs, ys));
        shapes.push(Shape::rect(frame.x, frame.y, frame.width, frame.height, None, Some(Pen::new(0.6))));
        shapes.extend(self.names(set, frame, xs));
        shapes
    }

    fn values(&self) -> Scale {
        let limits: Vec<f64> = self.limits.iter().flatten().copied().filter(|l| l.is_finite()).collect();
        let reach = limits.iter().fold(0.0_f64, |most, l| most.max(l.abs())) * 0.24;
        let mut all: Vec<f64> = limits.iter().flat_map(|l| [l - reach, l + reach]).collect();
        match self.limits {
            [None, Some(upper)] if !self.signed => all = vec![0.0, upper * 1.24],
            [Some(lower), Some(upper)] if lower >= 0.0 => {
                let more = (upper - lower) * 0.24;
                all = vec![if lower == 0.0 { 0.0 } else { lower - more }, upper + more];
            }
            _ if self.signed => all.push(0.0),
            _ => {}
        }
        for dot in &self.dots {
            all.extend(dot.value.into_iter().chain(dot.before).chain(dot.ends.into_iter().flatten()));
        }
        all.extend(&self.include);
        all.extend(self.band.iter().flat_map(|b| [b.value - b.half, b.value + b.half]));
        let most = all.iter().copied().filter(|v| v.is_finite()).fold(0.0_f64, |m, v| m.max(v.abs()));
        Scale::over(all, if limits.is_empty() { 0.1 } else { 0.05 }, (most * 0.02).max(FINEST))
    }

    /// The area beyond the limits, hatched, and the limits as lines.
    fn beyond(&self, frame: Area, ys: Scale) -> Vec<Shape> {
        let [lower, upper] = self.limits;
        let mut shapes = Vec::new();
        let step = if frame.width > 300.0 { 6.0 } else { 4.6 };
        for (limit, far) in [(upper, frame.y), (lower, frame.bottom())] {
            let Some(limit) = limit.filter(|l| l.is_finite()) else { continue };
            let y = ys.at(limit);
            if (far - y).abs() < 0.5 {
                continue;
            }
            let around = [(frame.x, y), (frame.right(), y), (frame.right(), far), (frame.x, far)];
            shapes.push(Shape::Lines { ends: hatch(&around, step), pen: Pen::HATCH });
            shapes.push(Shape::line(frame.x, y, frame.right(), y, Pen::LIMIT));
        }
        shapes
    }

    /// The values at the left.
    fn labels(&self, height: f64) -> Vec<Label> {
        let ys = self.values();
        let about = (height / 28.0).min(12.0);
        let round = match self.unit.map(Shown::unit) {
            Some(Unit::ArcMinute) => ys.minutes(about),
            _ => ys.ticks(about),
        };
        let limits = self.limits.iter().flatten().copied().filter(|l| l.is_finite());
        let decimals = limits.clone().map(step_decimals).max().unwrap_or(round.decimals);
        let (values, decimals) = match self.ticks {
            Ticks::Round => (round.values, round.decimals),
            Ticks::Limits if self.limits == [None, None] => (round.values, round.decimals),
            Ticks::Limits => {
                let zero = ys.low <= 0.0 && ys.high >= 0.0;
                (limits.chain(zero.then_some(0.0)).collect(), decimals)
            }
        };
        let text = |v: f64, decimals| match self.unit {
            Some(scale) if self.signed => scale.signed_number(v, decimals),
            _ if self.signed => signed(v, decimals),
            _ => fixed(v, decimals),
        };
        let label = |face, decimals| move |value| Label { value, text: text(value, decimals), face };
        // Limits come before round values: if there is room for only one, the limit gets it.
        let limits = self.limits.iter().flatten().copied().filter(|l| l.is_finite());
        let own = limits
            .filter(|_| self.ticks == Ticks::Round)
            .map(|l| label(Face::SemiBold, step_decimals(l).max(decimals))(l));
        own.chain(values.into_iter().map(label(Face::Medium, decimals))).collect()
    }

    fn axis(&self, labels: Vec<Label>, frame: Area, ys: Scale) -> Vec<Shape> {
        let mut shapes = Vec::new();
        let mut taken: Vec<f64> = Vec::new();
        for Label { value, text, face } in labels {
            let y = ys.at(value);
            let zero = value.abs() < 1e-12;
            if face == Face::SemiBold {
                // A limit has a line of its own.
            } else if zero && self.signed {
                shapes.push(Shape::line(frame.x, y, frame.right(), y, Pen::ROW));
            } else if self.ticks == Ticks::Round {
                shapes.push(Shape::line(frame.x, y, frame.right(), y, Pen::GRID));
            }
            if taken.iter().any(|t| (t - y).abs() < PAPER_TEXT + 1.0) {
                continue;
            }
            taken.push(y);
            let shape = Shape::text(frame.x - 3.0, y + 2.6, PAPER_TEXT, face, text);
            shapes.push(shape.anchored(Anchor::End));
        }
        shapes
    }

    fn curve(&self, xs: Scale, ys: Scale) -> Vec<Shape> {
        if self.band.is_empty() {
            return Vec::new();
        }
        let line = |side: f64| -> Vec<(f64, f64)> {
            self.band.iter().map(|b| (xs.at(b.x), ys.at(b.value + side * b.half))).collect()
        };
        vec![
            Shape::curve(line(1.0), Pen::dashed(0.45, 3.0, 1.6)),
            Shape::curve(line(-1.0), Pen::dashed(0.45, 3.0, 1.6)),
            Shape::curve(line(0.0), Pen::new(1.1)),
        ]
    }

    fn marks(&self, frame: Area, xs: Scale, ys: Scale) -> Vec<Shape> {
        let mut shapes = Vec::new();
        if self.joined {
            let line = self.dots.iter().filter_map(|d| Some((xs.at(d.x), ys.at(d.value?)))).collect();
            shapes.push(Shape::curve(line, Pen::new(0.6)));
        }
        let room = frame.width / many(self.dots.len().max(1));
        let size = if room > 9.0 { 7.0 } else { 5.2 };
        let (mut bars, cap) = (Vec::new(), if room > 16.0 && frame.width > 300.0 { 2.4 } else { 0.0 });
        for dot in &self.dots {
            let x = xs.at(dot.x);
            if let Some([low, high]) = dot.ends.filter(|_| dot.value.is_some()) {
                let (low, high) = (ys.at(low), ys.at(high));
                bars.push([(x, low), (x, high)]);
                if cap > 0.0 {
                    bars.extend([low, high].map(|y| [(x - cap, y), (x + cap, y)]));
                }
            }
        }
        shapes.push(Shape::Lines { ends: bars, pen: Pen::new(0.8) });
        let aside = if room > 14.0 && frame.width > 300.0 { 6.5 } else { 0.0 };
        for dot in &self.dots {
            let x = xs.at(dot.x);
            if let Some(before) = dot.before.filter(|b| b.is_finite()) {
                let x = (x + aside).min(frame.right() - 2.5);
                shapes.push(Shape::ring(x, ys.at(before), 2.1, Pen::new(0.7)));
            }
        }
        for dot in &self.dots {
            let x = xs.at(dot.x);
            match (dot.value.filter(|v| v.is_finite()), dot.state) {
                (Some(value), Some(Verdict::Within)) if room <= 9.0 => {
                    shapes.push(Shape::disc(x, ys.at(value), 1.3));
                }
                (Some(value), Some(state)) => shapes.extend(mark(state, x, ys.at(value), size)),
                (Some(value), None) => shapes.push(Shape::disc(x, ys.at(value), 1.8)),
                (None, Some(state)) => shapes.extend(mark(state, x, frame.bottom() - size * 0.8, size)),
                (None, None) => {}
            }
            if let (Some(value), true) = (dot.value, dot.ringed) {
                shapes.push(Shape::around(x, ys.at(value), 6.2));
            }
        }
        shapes
    }

    /// Names below the frame where there is room for them, with the text under each.
    fn names(&self, set: &Typesetter, frame: Area, xs: Scale) -> Vec<Shape> {
        let mut shapes = Vec::new();
        let mut dots: Vec<&Dot> = self.dots.iter().collect();
        dots.sort_by(|a, b| xs.at(a.x).total_cmp(&xs.at(b.x)));
        let mut free = frame.x - LEFT + 1.0;
        let end = frame.right() + 0.5;
        for dot in dots {
            let (name, under) = (set.visible(&dot.name), set.visible(&dot.under));
            let wide = set.width(Face::SemiBold, PAPER_TEXT, &name);
            let below = set.width(Face::Medium, PAPER_TEXT, &under);
            let half = wide.max(below) / 2.0;
            let x = xs.at(dot.x);
            let middle = x.min(end - half);
            if middle - half < free || (middle - x).abs() > 8.0 || name.is_empty() {
                continue;
            }
            free = middle + half + 3.0;
            let base = frame.bottom() + 8.6;
            let anchor = Anchor::Middle;
            shapes.push(Shape::line(x, frame.bottom(), x, frame.bottom() + 2.0, Pen::ROW));
            shapes.push(Shape::text(middle, base, PAPER_TEXT, Face::SemiBold, name).anchored(anchor));
            if !under.is_empty() {
                let under = Shape::text(middle, base + 9.6, PAPER_TEXT, Face::Medium, under);
                shapes.push(under.anchored(anchor));
            }
        }
        shapes
    }
}
