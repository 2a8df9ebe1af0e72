//! Inks as paints.

use crate::draw::{Ink, Pen};
use krilla::color::luma;
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};

fn colour(ink: Ink) -> luma::Color {
    luma::Color::new(match ink {
        Ink::Black => 0,
        Ink::White => 255,
    })
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
