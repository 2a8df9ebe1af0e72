//! What is drawn over what: band, forbidden ground, the stage before, fit, readings.

use super::Reading;
use crate::draw::{Anchor, Ink, Pen, Shape, hatch};
use crate::plot::axes::{Area, Scale};
use crate::plot::verdict_mark;
use crate::text::Face;
use assess::Verdict;
use assess::view::{BandPoint, PreviousTwist, Twist};

/// Distance between hatching lines, in points.
pub(super) const HATCH: f64 = 6.0;
/// The pen of the hatching.
pub(super) const HATCH_PEN: Pen = Pen::new(Ink::Grey, 0.45);
/// The pen of a limit.
pub(super) const LIMIT_PEN: Pen = Pen::new(Ink::Black, 0.9);
/// The pen of the stage before.
pub(super) const BEFORE_PEN: Pen = Pen::dashed(Ink::Grey, 0.9, 3.0, 2.0);
/// The pen of the fit.
pub(super) const FIT_PEN: Pen = Pen::new(Ink::Blue, 1.5);

/// The simultaneous band of the curve; nothing where there is none.
pub(super) fn band(twist: &Twist, spans: Scale, values: Scale) -> Vec<Shape> {
    if twist.band.is_empty() {
        return Vec::new();
    }
    let edge = |sign: f64| {
        move |b: &BandPoint| (spans.at(b.span_mm), values.inside(b.fit_deg + sign * b.simultaneous_deg))
    };
    let upper: Vec<(f64, f64)> = twist.band.iter().map(edge(1.0)).collect();
    let lower: Vec<(f64, f64)> = twist.band.iter().map(edge(-1.0)).collect();
    let around = upper.iter().copied().chain(lower.iter().rev().copied()).collect();
    let pen = Pen::new(Ink::Blue, 0.4);
    vec![Shape::area(around, Ink::Sky), Shape::curve(upper, pen), Shape::curve(lower, pen)]
}

/// What lies outside the tolerance, hatched, and the limits as lines.
pub(super) fn forbidden(twist: &Twist, area: Area, values: Scale) -> Vec<Shape> {
    let mut shapes = Vec::new();
    let mut side = |limit: Option<f64>, far: f64| {
        let Some(limit) = limit.filter(|v| v.is_finite()) else { return };
        let line = vec![(area.left, values.inside(limit)), (area.right, values.inside(limit))];
        let around: Vec<(f64, f64)> =
            line.iter().copied().chain([(area.right, far), (area.left, far)]).collect();
        shapes.push(Shape::Lines { ends: hatch(&around, HATCH), pen: HATCH_PEN });
        shapes.push(Shape::curve(line, LIMIT_PEN));
    };
    side(twist.upper_deg, area.top);
    side(twist.lower_deg, area.bottom);
    shapes
}

/// The stage before.
pub(super) fn previous(previous: &PreviousTwist, spans: Scale, values: Scale, size: f64) -> Vec<Shape> {
    let places: Vec<(f64, f64)> = previous
        .stations
        .iter()
        .filter(|s| s.twist_error_deg.is_finite())
        .map(|s| (spans.at(s.span_mm), values.inside(s.twist_error_deg)))
        .collect();
    let r = size * 0.2;
    let dot = |(x, y): &(f64, f64)| {
        let pen = Some(Pen::new(Ink::Grey, 0.8));
        Shape::Circle { x: *x, y: *y, r, fill: Some(Ink::White), pen }
    };
    let dots: Vec<Shape> = places.iter().map(dot).collect();
    std::iter::once(Shape::curve(places, BEFORE_PEN)).chain(dots).collect()
}

/// The curve; nothing where there is none.
pub(super) fn fit(twist: &Twist, spans: Scale, values: Scale) -> Vec<Shape> {
    if twist.band.is_empty() {
        return Vec::new();
    }
    let line = twist.band.iter().map(|b| (spans.at(b.span_mm), values.inside(b.fit_deg))).collect();
    vec![Shape::curve(line, FIT_PEN)]
}

/// The readings with their bars; those to be taken again in a ring.
pub(super) fn readings(readings: &[Reading<'_>], spans: Scale, values: Scale, size: f64) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for reading in readings {
        let (x, y) = (spans.at(reading.station.span_mm), values.at(reading.value));
        let [low, high] = reading.ends.map(|e| values.inside(e));
        let cap = size * 0.28;
        let ends =
            vec![[(x, high), (x, low)], [(x - cap, high), (x + cap, high)], [(x - cap, low), (x + cap, low)]];
        shapes.push(Shape::Lines { ends, pen: Pen::new(Ink::Black, 0.7) });
        shapes.extend(verdict_mark(reading.station.verdict, x, y, size * 0.36));
        if reading.station.stands_out {
            shapes.push(ring(x, y, size));
        }
    }
    shapes
}

/// The ring around a reading that stands out from the others.
pub(super) fn ring(x: f64, y: f64, size: f64) -> Shape {
    Shape::Circle { x, y, r: size * 0.85, fill: None, pen: Some(Pen::new(Ink::Black, 1.0)) }
}

/// Stations without a usable reading, at the foot of the plot.
pub(super) fn absent(twist: &Twist, area: Area, spans: Scale, size: f64) -> Vec<Shape> {
    let without = twist.stations.iter().filter(|s| s.twist_error_deg.is_none());
    let mark = |s: &assess::view::StationView| {
        let verdict = s.verdict.unwrap_or(Verdict::Missing);
        verdict_mark(Some(verdict), spans.at(s.span_mm), area.bottom - size * 0.9, size * 0.36)
    };
    without.flat_map(mark).collect()
}

/// The washout error beside the tip, with its own limits.
pub(super) fn washout(twist: &Twist, area: Area, values: Scale, size: f64) -> Vec<Shape> {
    let Some(judged) = twist.washout_error.judged().filter(|j| j.value.is_finite()) else {
        return Vec::new();
    };
    let x = area.right + size * 1.4;
    let cap = size * 0.55;
    let mut ends = Vec::new();
    for limit in judged.lower.into_iter().chain(judged.upper) {
        let y = values.inside(limit);
        ends.push([(x - cap, y), (x + cap, y)]);
    }
    let mut shapes = Vec::new();
    if let (Some(lower), Some(upper)) = (judged.lower, judged.upper) {
        let (low, high) = (values.inside(lower), values.inside(upper));
        shapes.push(Shape::line(x, low, x, high, Pen::dashed(Ink::Grey, 0.6, 1.5, 2.0)));
    }
    shapes.push(Shape::Lines { ends, pen: Pen::new(Ink::Black, 1.2) });
    let (high, low) = (values.inside(judged.upper95), values.inside(judged.lower95));
    shapes.push(Shape::line(x, high, x, low, Pen::new(Ink::Black, 0.8)));
    shapes.extend(verdict_mark(judged.verdict, x, values.inside(judged.value), size * 0.36));
    let title =
        Shape::text(x + size * 1.6, values.inside(judged.value), size * 0.92, Face::Book, "washout error");
    shapes.push(title.inked(Ink::Slate).anchored(Anchor::Middle).upward());
    shapes
}
