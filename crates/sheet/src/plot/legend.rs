//! The legend of a picture: samples of its marks and lines, with their words.

use super::mark;
use crate::draw::{Pen, Shape, hatch};
use crate::flow::Area;
use crate::text::{Face, Typesetter};
use assess::Verdict;
use assess::view::{PreviousTwist, Twist};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Legend {
    Station(Verdict),
    Before,
    Curve,
    Band,
    Beyond,
    Ring,
}

/// A sample in a legend, and its words.
#[derive(Clone, Debug)]
pub(crate) struct Sample {
    pub of: Legend,
    pub words: String,
}

impl Sample {
    pub(crate) fn new(of: Legend, words: impl Into<String>) -> Self {
        Self { of, words: words.into() }
    }
}

/// From one line of a legend to the next.
const LINE: f64 = 12.0;

impl Sample {
    fn width(&self) -> f64 {
        if self.of == Legend::Before { 8.0 } else { 18.0 }
    }

    /// Including its words.
    fn whole_width(&self, set: &Typesetter) -> f64 {
        self.width() + 4.0 + set.width(Face::Medium, 8.0, &set.visible(&self.words))
    }
}

/// Where each sample is: how far along its line, and on which line, in a legend of this width.
fn places(set: &Typesetter, width: f64, entries: &[Sample]) -> Vec<(f64, f64)> {
    let (mut x, mut line) = (2.0, 0.0);
    let place = |entry: &Sample| {
        let whole = entry.whole_width(set);
        if x > 2.0 && x + whole > width + 0.5 {
            (x, line) = (2.0, line + 1.0);
        }
        let place = (x, line);
        x += whole + 14.0;
        place
    };
    entries.iter().map(place).collect()
}

pub(crate) fn legend_height(set: &Typesetter, width: f64, entries: &[Sample]) -> f64 {
    let last = places(set, width, entries).last().map_or(0.0, |(_, line)| *line);
    3.0 + LINE * (last + 1.0)
}

/// Samples with their words, in as many lines as fit the area.
pub(crate) fn legend(set: &Typesetter, area: Area, entries: &[Sample]) -> Vec<Shape> {
    let mut shapes = Vec::new();
    for (entry, (along, line)) in entries.iter().zip(places(set, area.width, entries)) {
        let (x, y, wide) = (area.x + along, area.y + 5.0 + LINE * line, entry.width());
        if y > area.bottom() || along + entry.whole_width(set) > area.width + 0.5 {
            break;
        }
        let middle = x + wide / 2.0;
        match entry.of {
            Legend::Station(state) => {
                shapes.push(Shape::line(middle, y - 5.0, middle, y + 5.0, Pen::new(0.8)));
                shapes.extend(mark(state, middle, y, 7.0));
            }
            Legend::Before => shapes.push(Shape::ring(middle, y, 2.1, Pen::new(0.7))),
            Legend::Curve => shapes.push(Shape::line(x, y, x + wide, y, Pen::new(1.1))),
            Legend::Band => shapes.push(Shape::line(x, y, x + wide, y, Pen::dashed(0.45, 3.0, 1.6))),
            Legend::Beyond => {
                let around = [(x, y - 4.0), (x + wide, y - 4.0), (x + wide, y + 4.0), (x, y + 4.0)];
                shapes.push(Shape::Lines { ends: hatch(&around, 4.6), pen: Pen::HATCH });
                shapes.push(Shape::rect(x, y - 4.0, wide, 8.0, None, Some(Pen::ROW)));
            }
            Legend::Ring => shapes.push(Shape::around(middle, y, 4.6)),
        }
        let words = set.visible(&entry.words);
        shapes.push(Shape::text(x + wide + 4.0, y + 2.8, 8.0, Face::Medium, words));
    }
    shapes
}

/// The legend of the twist plot: only what appears in it.
pub(crate) fn twist_legend(twist: &Twist, previous: Option<&PreviousTwist>) -> Vec<Sample> {
    let mut out = Vec::new();
    for verdict in Verdict::WORST_FIRST.into_iter().rev() {
        if twist.stations.iter().any(|s| s.verdict == Some(verdict)) {
            let words = if out.is_empty() { "by its own readings, " } else { "" };
            out.push(Sample::new(Legend::Station(verdict), format!("{words}{}", verdict.word())));
        }
    }
    if twist.stations.iter().any(|s| s.stands_out) {
        out.push(Sample::new(Legend::Ring, "stands out"));
    }
    if let Some(previous) = previous {
        out.push(Sample::new(Legend::Before, format!("stage before: {}", previous.stage)));
    }
    if !twist.band.is_empty() {
        out.push(Sample::new(Legend::Curve, "curve, shape only"));
        out.push(Sample::new(Legend::Band, "its 95 % band"));
    }
    if twist.lower_deg.or(twist.upper_deg).is_some() {
        out.push(Sample::new(Legend::Beyond, "beyond the limit"));
    }
    out
}
