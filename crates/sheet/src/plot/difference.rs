//! Differences of two profiles.

use super::legend::{Legend, Sample, legend};
use super::profile::{Picture, areas};
use super::style::PlotStyle;
use super::{Dot, Dots, Ticks};
use crate::text::Typesetter;
use assess::Verdict;
use assess::view::Comparison;
use quantity::shown::K95;
use quantity::{Kind, Units};

/// Differences along the span, and a text that describes them.
pub(crate) struct Difference {
    pub dots: Dots,
    pub about: String,
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
