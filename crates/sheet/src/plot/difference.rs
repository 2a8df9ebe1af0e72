//! Differences along the span, for a comparison.

use super::axes::{Area, Scale};
use super::legend::{Entry, legend};
use super::profile::{Frame, Picture, lowered};
use crate::draw::{Ink, Pen, Shape};
use crate::text::Typesetter;
use assess::view::{Comparison, ComparisonRow};
use quantity::shown::K95;

/// Differences in degrees with their 95 % bars: full discs where they are more than measurement, open ones where not.
pub(crate) fn difference(set: &Typesetter, comparison: &Comparison, frame: &Frame) -> Picture {
    let Frame { x, y, width, height, text: size } = *frame;
    let rows: Vec<(&ComparisonRow, f64, f64)> = comparison
        .stations
        .iter()
        .filter_map(|r| Some((r, r.span_mm.filter(|v| v.is_finite())?, r.difference.value)))
        .filter(|(_, _, difference)| difference.is_finite())
        .collect();
    let entries = [
        Entry::new("difference, more than measurement", |x, y, size| vec![disc(x, y, size, true)]),
        Entry::new("difference, not more than measurement", |x, y, size| vec![disc(x, y, size, false)]),
        Entry::new("95 % bar", |x, y, s| {
            vec![Shape::line(x, y - s * 0.6, x, y + s * 0.6, Pen::new(Ink::Black, 0.7))]
        }),
    ];
    let (key, key_height) = legend(set, &entries, (x, 0.0), width, size);
    let area = Area {
        left: x + size * 5.4,
        right: x + width - size * 0.5,
        top: y + size * 0.5,
        bottom: y + height - key_height - size * 3.6,
    };
    let spans = Scale::over(rows.iter().map(|(_, span, _)| *span), 0.0, 1.0)
        .onto(area.left + size, area.right - size);
    let bar = |row: &ComparisonRow| if row.difference.u.is_finite() { K95 * row.difference.u } else { 0.0 };
    let ends = rows.iter().flat_map(|(row, _, d)| [d - bar(row), d + bar(row)]);
    let values = Scale::over(ends.chain([0.0]), 0.1, 0.02).onto(area.bottom, area.top);

    let mut shapes = area.value_axis(values, size);
    for (row, span, value) in &rows {
        let (x, half) = (spans.at(*span), bar(row));
        shapes.push(Shape::line(
            x,
            values.at(value - half),
            x,
            values.at(value + half),
            Pen::new(Ink::Black, 0.7),
        ));
        shapes.push(disc(x, values.at(*value), size, row.real));
    }
    shapes.push(area.frame());
    let names: Vec<(f64, String)> =
        rows.iter().map(|(row, span, _)| (*span, set.visible(&row.name).into_owned())).collect();
    shapes.extend(area.span_axis(set, spans, &names, size));
    shapes.push(area.value_title(set, x + size, ("difference, degrees", "difference, °"), size));
    shapes.extend(key.into_iter().map(|shape| lowered(shape, y + height - key_height)));
    let real = rows.iter().filter(|(row, ..)| row.real).count();
    let about = format!(
        "Differences at {} stations between {} and {}; {real} are more than measurement.",
        rows.len(),
        comparison.first,
        comparison.second
    );
    Picture { shapes, about }
}

fn disc(x: f64, y: f64, size: f64, full: bool) -> Shape {
    let fill = if full { Ink::Black } else { Ink::White };
    Shape::Circle { x, y, r: size * 0.36, fill: Some(fill), pen: Some(Pen::new(Ink::Black, 0.8)) }
}
