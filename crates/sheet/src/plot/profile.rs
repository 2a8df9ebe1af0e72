//! The twist profile.

mod about;
mod key;
mod layers;

use super::axes::{Area, Scale};
use super::legend::legend;
use super::{PAPER_TEXT, PlotStyle};
use crate::draw::{Anchor, Ink, Pen, Shape};
use crate::text::{Face, Typesetter};
use assess::Assessment;
use assess::view::{StationView, Twist};

/// Where a plot goes and how large its text is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Frame {
    pub x: f64,
    pub y: f64,
    pub width: f64,
    pub height: f64,
    pub text: f64,
}

impl Frame {
    /// The whole of a picture, in its own measure: it is enlarged when it is written.
    pub(crate) const fn whole(style: &PlotStyle) -> Self {
        let pad = PAPER_TEXT * 0.8;
        let (width, height) = (style.width_pt / style.scale(), style.height_pt / style.scale());
        Self { x: pad, y: pad, width: width - 2.0 * pad, height: height - 2.0 * pad, text: PAPER_TEXT }
    }
}

/// A plot: its shapes, and in words what they show.
pub(crate) struct Picture {
    pub shapes: Vec<Shape>,
    pub about: String,
}

/// A reading as plotted.
struct Reading<'a> {
    station: &'a StationView,
    /// Twist error by its own readings, in degrees.
    value: f64,
    /// Ends of its 95 % interval.
    ends: [f64; 2],
}

/// The twist profile: each station by its own readings with its verdict, behind it the curve with its band, what lies outside
/// the tolerance hatched, and the stage before.
pub(crate) fn profile(set: &Typesetter, assessment: &Assessment, frame: &Frame) -> Picture {
    match &assessment.twist {
        Some(twist) => drawn(set, assessment, twist, frame),
        None => none(frame),
    }
}

fn none(frame: &Frame) -> Picture {
    let about = "No twist profile: fewer than two stations have a usable reading.".to_owned();
    let Frame { x, y, width, height, text } = *frame;
    let middle = Shape::text(x + width / 2.0, y + height / 2.0, text * 1.2, Face::Book, about.as_str());
    let shapes = vec![
        Shape::rect(x, y, width, height, None, Some(Pen::dashed(Ink::Grey, 0.8, 3.0, 3.0))),
        middle.inked(Ink::Slate).anchored(Anchor::Middle),
    ];
    Picture { shapes, about }
}

fn readings<'a>(twist: &'a Twist) -> Vec<Reading<'a>> {
    let reading = |station: &'a StationView| {
        let StationView { twist_error_deg, lower95_deg, upper95_deg, .. } = station;
        let (value, ends) = ((*twist_error_deg)?, [(*lower95_deg)?, (*upper95_deg)?]);
        (value.is_finite() && ends.iter().all(|e| e.is_finite())).then_some(Reading { station, value, ends })
    };
    twist.stations.iter().filter_map(reading).collect()
}

fn drawn(set: &Typesetter, assessment: &Assessment, twist: &Twist, frame: &Frame) -> Picture {
    let Frame { x, y, width, height, text: size } = *frame;
    let readings = readings(twist);
    let previous = assessment.previous.as_ref();

    let (key, key_height) = legend(set, &key::entries(set, twist, previous), (x, 0.0), width, size);
    let area = Area {
        left: x + size * 5.4,
        right: x + width - size * 3.4,
        top: y + size * 0.5,
        bottom: y + height - key_height - size * 3.6,
    };
    let spans = span_scale(twist).onto(area.left + size, area.right - size);
    let values = value_scale(twist, &readings, assessment).onto(area.bottom, area.top);

    let mut shapes = layers::band(twist, spans, values);
    shapes.extend(area.value_axis(values, size));
    shapes.extend(layers::forbidden(twist, area, values));
    if let Some(previous) = previous {
        shapes.extend(layers::previous(previous, spans, values, size));
    }
    shapes.extend(layers::fit(twist, spans, values));
    shapes.push(area.frame());
    shapes.extend(layers::readings(&readings, spans, values, size));
    shapes.extend(layers::absent(twist, area, spans, size));
    shapes.extend(layers::washout(twist, area, values, size));
    let names: Vec<(f64, String)> =
        twist.stations.iter().map(|s| (s.span_mm, set.visible(&s.name).into_owned())).collect();
    shapes.extend(area.span_axis(set, spans, &names, size));
    shapes.push(area.value_title(
        set,
        x + size,
        ("twist error, degrees, nose up positive", "twist error, °"),
        size,
    ));
    shapes.extend(key.into_iter().map(|shape| lowered(shape, y + height - key_height)));
    Picture { shapes, about: about::words(twist, previous) }
}

fn span_scale(twist: &Twist) -> Scale {
    let stations = twist.stations.iter().map(|s| s.span_mm);
    Scale::over(stations.chain([twist.root_mm, twist.tip_mm]), 0.0, 1.0)
}

fn value_scale(twist: &Twist, readings: &[Reading<'_>], assessment: &Assessment) -> Scale {
    let mut all = vec![0.0];
    all.extend(twist.lower_deg.into_iter().chain(twist.upper_deg));
    for place in &twist.band {
        all.extend([place.fit_deg - place.simultaneous_deg, place.fit_deg + place.simultaneous_deg]);
    }
    all.extend(readings.iter().flat_map(|r| r.ends));
    if let Some(previous) = &assessment.previous {
        all.extend(previous.stations.iter().map(|s| s.twist_error_deg));
    }
    if let Some(tip) = twist.washout_error.judged() {
        all.extend(tip.lower.into_iter().chain(tip.upper).chain([tip.value]));
    }
    Scale::over(all, 0.08, 0.02)
}

pub(super) fn lowered(mut shape: Shape, by: f64) -> Shape {
    match &mut shape {
        Shape::Text(text) => text.y += by,
        Shape::Path { points, .. } => points.iter_mut().for_each(|(_, y)| *y += by),
        Shape::Circle { y, .. } => *y += by,
        Shape::Lines { ends, .. } => ends.iter_mut().flatten().for_each(|(_, y)| *y += by),
    }
    shape
}
