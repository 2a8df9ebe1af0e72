//! Inks as paints.

use crate::draw::{Ink, Pen};
use crate::svg::light;
use krilla::color::rgb;
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};

fn colour(ink: Ink) -> rgb::Color {
    let hex = light(ink);
    let part =
        |from: usize| hex.get(from..from + 2).and_then(|two| u8::from_str_radix(two, 16).ok()).unwrap_or(0);
    rgb::Color::new(part(1), part(3), part(5))
}

pub(super) fn fill(ink: Ink) -> Fill {
    Fill { paint: colour(ink).into(), opacity: NormalizedF32::ONE, rule: FillRule::EvenOdd }
}

pub(super) fn stroke(pen: Pen) -> Stroke {
    #[expect(clippy::cast_possible_truncation, reason = "line widths in points")]
    let short = |value: f64| value as f32;
    Stroke {
        paint: colour(pen.ink).into(),
        width: short(pen.width),
        line_cap: LineCap::Butt,
        line_join: LineJoin::Round,
        dash: pen.dash.map(|(on, off)| StrokeDash { array: vec![short(on), short(off)], offset: 0.0 }),
        ..Stroke::default()
    }
}
