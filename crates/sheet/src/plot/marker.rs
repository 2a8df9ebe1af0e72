//! The seven marks.

use crate::draw::{Ink, Pen, Shape};
use assess::view::{MarkShape, Verdict};

/// A mark of this size around a place.
pub(crate) fn mark(state: Verdict, x: f64, y: f64, size: f64) -> Vec<Shape> {
    let r = size / 2.0;
    let pen = Pen::new((0.11 * size).max(0.8));
    let inset = pen.width / 2.0;
    let outline = |points: Vec<(f64, f64)>| Shape::Path {
        points,
        closed: true,
        fill: Some(Ink::White),
        pen: Some(pen),
    };
    match state.mark() {
        MarkShape::Circle => vec![Shape::disc(x, y, r)],
        MarkShape::Triangle => {
            vec![Shape::area(
                vec![(x - r, y + r * 0.88), (x + r, y + r * 0.88), (x, y - r * 0.92)],
                Ink::Black,
            )]
        }
        MarkShape::HalfDiamond => {
            let d = r * 1.12 - inset;
            vec![
                outline(vec![(x, y - d), (x + d, y), (x, y + d), (x - d, y)]),
                Shape::area(vec![(x, y - d), (x, y + d), (x - d, y)], Ink::Black),
            ]
        }
        MarkShape::HalfTriangle => {
            let (w, top, foot) = (r - inset * 0.6, y - r * 0.82 + inset, y + r * 0.96 - inset);
            vec![
                outline(vec![(x - w, top), (x + w, top), (x, foot)]),
                Shape::area(vec![(x - w, top), (x, top), (x, foot)], Ink::Black),
            ]
        }
        MarkShape::StruckRing => {
            let ring = r - inset;
            let s = ring * core::f64::consts::FRAC_1_SQRT_2;
            vec![Shape::ring(x, y, ring, pen), Shape::line(x - s, y + s, x + s, y - s, pen)]
        }
        MarkShape::Square => {
            let s = r * 0.9 - inset;
            vec![outline(vec![(x - s, y - s), (x + s, y - s), (x + s, y + s), (x - s, y + s)])]
        }
        MarkShape::Bar => {
            vec![Shape::rect(x - r, y - r * 0.25, 2.0 * r, r * 0.5, Some(Ink::Black), None)]
        }
    }
}
