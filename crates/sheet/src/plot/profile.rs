//! The twist profile, and differences of two of them.

use super::style::{PAPER_TEXT, PlotStyle};
use super::{Band, Dot, Dots, Ticks, mark};
use crate::draw::{Anchor, Ink, Pen, Shape, hatch};
use crate::flow::Area;
use crate::text::{Face, Typesetter};
use assess::view::{Comparison, PreviousTwist, StationView, Twist};
use assess::{Assessment, Verdict};
use quantity::shown::{K95, Scale};
use quantity::{Kind, Units};
use record::plan::Side;

/// A plot: its shapes, and a text that describes them.
pub(crate) struct Picture {
    pub shapes: Vec<Shape>,
    pub about: String,
}

/// The stations with the curve and the stage before.
pub(crate) fn twist_dots(
    a: &Assessment,
    twist: &Twist,
    previous: Option<&PreviousTwist>,
    ticks: Ticks,
) -> Dots {
    let mut before = previous.iter().flat_map(|p| &p.stations).peekable();
    let dot = |s: &StationView| {
        while before.next_if(|b| b.span_mm < s.span_mm).is_some() {}
        let was = before.next_if(|b| (b.span_mm - s.span_mm).abs() < 1e-9);
        let value = s.twist_error_deg.filter(|v| v.is_finite());
        Dot {
            x: s.span_mm,
            name: s.name.clone(),
            value,
            ends: s.lower95_deg.zip(s.upper95_deg).map(|(low, high)| [low, high]),
            before: was.map(|b| b.twist_error_deg),
            state: s.verdict.or(value.is_none().then_some(Verdict::Missing)),
            ringed: s.stands_out,
            ..Dot::default()
        }
    };
    Dots {
        dots: twist.stations.iter().map(dot).collect(),
        limits: [twist.lower_deg, twist.upper_deg],
        band: twist
            .band
            .iter()
            .filter(|b| b.fit_deg.is_finite() && b.simultaneous_deg.is_finite())
            .map(|b| Band { x: b.span_mm, value: b.fit_deg, half: b.simultaneous_deg })
            .collect(),
        ticks,
        signed: true,
        reversed: a.side == Side::Left,
        reach: vec![twist.root_mm, twist.tip_mm],
        ..Dots::default()
    }
    .in_unit(a.units.scale(Kind::Angle))
}

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

/// Differences along the span, and a text that describes them.
pub(crate) struct Difference {
    pub dots: Dots,
    pub about: String,
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

pub(crate) fn legend_height(set: &Typesetter, width: f64, entries: &[Sample]) -> f64 {
    let (mut x, mut lines) = (2.0, 1.0);
    for entry in entries {
        let whole = entry.whole_width(set);
        if x > 2.0 && x + whole > width + 0.5 {
            (x, lines) = (2.0, lines + 1.0);
        }
        x += whole + 14.0;
    }
    3.0 + LINE * lines
}

/// Samples with their words, in as many lines as fit the area.
pub(crate) fn legend(set: &Typesetter, area: Area, entries: &[Sample]) -> Vec<Shape> {
    let (mut x, mut y) = (area.x + 2.0, area.y + 5.0);
    let mut shapes = Vec::new();
    for entry in entries {
        let (wide, whole) = (entry.width(), entry.whole_width(set));
        if x > area.x + 2.0 && x + whole > area.right() + 0.5 {
            (x, y) = (area.x + 2.0, y + LINE);
        }
        if y > area.bottom() || x + whole > area.right() + 0.5 {
            break;
        }
        let middle = x + wide / 2.0;
        match entry.of {
            Legend::Station(state) => {
                shapes.push(Shape::line(middle, y - 5.0, middle, y + 5.0, Pen::new(0.8)));
                shapes.extend(mark(state, middle, y, 7.0));
            }
            Legend::Before => {
                let pen = Some(Pen::new(0.7));
                shapes.push(Shape::Circle { x: middle, y, r: 2.1, fill: Some(Ink::White), pen });
            }
            Legend::Curve => shapes.push(Shape::line(x, y, x + wide, y, Pen::new(1.1))),
            Legend::Band => shapes.push(Shape::line(x, y, x + wide, y, Pen::dashed(0.45, 3.0, 1.6))),
            Legend::Beyond => {
                let around = [(x, y - 4.0), (x + wide, y - 4.0), (x + wide, y + 4.0), (x, y + 4.0)];
                shapes.push(Shape::Lines { ends: hatch(&around, 4.6), pen: Pen::HATCH });
                shapes.push(Shape::rect(x, y - 4.0, wide, 8.0, None, Some(Pen::ROW)));
            }
            Legend::Ring => {
                let pen = Some(Pen::new(0.9));
                shapes.push(Shape::Circle { x: middle, y, r: 4.6, fill: None, pen });
            }
        }
        let words = set.visible(&entry.words);
        shapes.push(Shape::text(x + wide + 4.0, y + 2.8, 8.0, Face::Medium, words));
        x += whole + 14.0;
    }
    shapes
}

/// The legend of the twist plot: only what appears in it.
pub(crate) fn entries(twist: &Twist, previous: Option<&PreviousTwist>) -> Vec<Sample> {
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

/// The area of a picture for the screen, and that of its legend.
fn areas(style: &PlotStyle) -> [Area; 2] {
    let pad = PAPER_TEXT * 0.8;
    let (width, height) =
        (style.width_pt / style.scale() - 2.0 * pad, style.height_pt / style.scale() - 2.0 * pad);
    let below = 14.0_f64.min(height / 3.0);
    let plot = Area { x: pad, y: pad, width, height: height - below };
    [plot, Area { x: pad, y: plot.bottom() + 2.0, width, height: below }]
}

/// The twist profile for the screen.
pub(crate) fn profile(set: &Typesetter, a: &Assessment, style: &PlotStyle) -> Picture {
    let [plot, below] = areas(style);
    let Some(twist) = &a.twist else {
        let about = "No twist profile: fewer than two stations have a usable reading.".to_owned();
        let (x, y) = (plot.x + plot.width / 2.0, plot.y + plot.height / 2.0);
        let words = Shape::text(x, y, 9.0, Face::Medium, about.as_str()).anchored(Anchor::Middle);
        let frame = Shape::rect(plot.x, plot.y, plot.width, plot.height, None, Some(Pen::ROW));
        return Picture { shapes: vec![frame, words], about };
    };
    let previous = a.previous.as_ref();
    let mut shapes = twist_dots(a, twist, previous, Ticks::Round).draw(set, plot);
    shapes.extend(legend(set, below, &entries(twist, previous)));
    Picture { shapes, about: words(twist, a.units.scale(Kind::Angle)) }
}

/// The profile as text, for people who cannot see it.
pub(crate) fn words(twist: &Twist, angle: Scale) -> String {
    let errors = || twist.stations.iter().filter_map(|s| s.twist_error_deg).filter(|v| v.is_finite());
    let least = errors().fold(f64::INFINITY, f64::min);
    let most = errors().fold(f64::NEG_INFINITY, f64::max);
    let mut out = format!("Twist error along the span at {} stations", twist.stations.len());
    if least <= most {
        out.push_str(&format!(
            "; it goes from {} to {}",
            angle.fixed_with(least, 3),
            angle.fixed_with(most, 3)
        ));
    }
    if let Some(washout) = twist.washout_error.judged() {
        out.push_str(&format!("; washout error {}", washout.shown()));
    }
    for verdict in Verdict::WORST_FIRST {
        let count = twist.stations.iter().filter(|s| s.verdict == Some(verdict)).count();
        if count > 0 {
            out.push_str(&format!("; {count} {}", verdict.word()));
        }
    }
    out.push('.');
    out
}

/// The units for people, the same for everything compared.
pub(crate) fn units(comparison: &Comparison) -> Units {
    let first = comparison.parts.iter().chain(&comparison.stations).next();
    first.map_or(Units::INSIDE, |row| row.difference.units)
}

/// Differences along the span: marks if they are more than measurement, small dots if not.
pub(crate) fn difference(comparison: &Comparison) -> Difference {
    let dot = |row: &assess::view::ComparisonRow| {
        let x = row.span_mm.filter(|v| v.is_finite())?;
        let value = row.difference.value;
        let half = if row.difference.u.is_finite() { K95 * row.difference.u } else { 0.0 };
        Some(Dot {
            x,
            name: row.name.clone(),
            value: value.is_finite().then_some(value),
            ends: Some([value - half, value + half]),
            state: row.real.then_some(Verdict::Outside),
            ..Dot::default()
        })
    };
    let dots: Vec<Dot> = comparison.stations.iter().filter_map(dot).collect();
    let first = comparison.stations.first().map(|r| [r.difference.lower, r.difference.upper]);
    let real = comparison.stations.iter().filter(|r| r.real).count();
    let about = format!(
        "Differences at {} stations between {} and {}; {real} are more than measurement.",
        dots.len(),
        comparison.first,
        comparison.second
    );
    let dots = Dots {
        dots,
        limits: first.unwrap_or_default(),
        ticks: Ticks::Round,
        signed: true,
        ..Dots::default()
    }
    .in_unit(units(comparison).scale(Kind::Angle));
    Difference { dots, about }
}

/// Differences for the screen.
pub(crate) fn difference_picture(set: &Typesetter, comparison: &Comparison, style: &PlotStyle) -> Picture {
    let [plot, below] = areas(style);
    let Difference { dots, about } = difference(comparison);
    let mut shapes = dots.draw(set, plot);
    let real = Sample::new(Legend::Station(Verdict::Outside), "more than measurement");
    shapes.extend(legend(set, below, &[real]));
    Picture { shapes, about }
}
