//! A value on a short line between its limits.

use super::mark;
use super::scale::Scale;
use crate::draw::{Pen, Shape, hatch};
use crate::flow::Area;
use assess::view::Verdict;

/// A value with its 95 % on a line that extends to `reach`; the area beyond the limits is hatched.
pub(crate) fn strip(
    area: Area,
    value: f64,
    half: f64,
    limits: [Option<f64>; 2],
    reach: f64,
    state: Verdict,
) -> Vec<Shape> {
    let [lower, upper] = limits;
    let low = if lower.is_some_and(|l| l < 0.0) || value - half < 0.0 { -reach } else { 0.0 };
    let scale = Scale::over([low, reach], 0.0, 1e-6);
    let scale = scale.onto(area.x + 3.5, area.right() - 3.5);
    let (y, tall) = (area.y + area.height / 2.0, 5.0);
    let mut shapes = vec![Shape::line(area.x, y, area.right(), y, Pen::ROW)];
    for (limit, end) in [(lower, area.x), (upper, area.right())] {
        let Some(limit) = limit else { continue };
        let x = scale.at(limit);
        let around = [(x, y - tall), (end, y - tall), (end, y + tall), (x, y + tall)];
        shapes.push(Shape::Lines { ends: hatch(&around, 4.2), pen: Pen::HATCH });
        shapes.push(Shape::line(x, y - tall - 1.0, x, y + tall + 1.0, Pen::LIMIT));
    }
    let [from, to] = [scale.at(value - half), scale.at(value + half)];
    let ends = vec![[(from, y), (to, y)], [(from, y - 2.6), (from, y + 2.6)], [(to, y - 2.6), (to, y + 2.6)]];
    shapes.push(Shape::Lines { ends, pen: Pen::new(1.3) });
    shapes.extend(mark(state, scale.at(value), y, 7.0));
    shapes
}
