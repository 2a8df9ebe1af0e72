//! A shape for each verdict, so that print without colour loses nothing.

use crate::draw::{Ink, Pen, Shape};
use assess::Verdict;

/// The shape of a verdict around a place: within a full disc, undecided a half-full disc, outside a square with a cross,
/// doubtful a half-full triangle pointing down, cannot be judged a bar, stale an open diamond, missing an open square;
/// without a tolerance an upright cross.
pub(crate) fn verdict_mark(verdict: Option<Verdict>, x: f64, y: f64, r: f64) -> Vec<Shape> {
    let pen = Pen::new(Ink::Black, r * 0.3);
    let (black, white) = (Some(Ink::Black), Some(Ink::White));
    match verdict {
        Some(Verdict::Within) => vec![Shape::Circle { x, y, r, fill: black, pen: None }],
        Some(Verdict::Undecided) => vec![
            Shape::Circle { x, y, r: r * 0.92, fill: white, pen: Some(pen) },
            Shape::area(half_disc(x, y, r * 0.92), Ink::Black),
        ],
        Some(Verdict::Outside) => {
            let (s, c) = (r * 1.1, r * 0.62);
            let cross = vec![[(x - c, y - c), (x + c, y + c)], [(x - c, y + c), (x + c, y - c)]];
            vec![
                Shape::rect(x - s, y - s, 2.0 * s, 2.0 * s, black, None),
                Shape::Lines { ends: cross, pen: Pen::new(Ink::White, r * 0.36) },
            ]
        }
        Some(Verdict::Doubtful) => {
            let (w, h) = (r * 1.15, r);
            let points = vec![(x - w, y - h), (x + w, y - h), (x, y + h)];
            let left = vec![(x - w, y - h), (x, y - h), (x, y + h)];
            vec![
                Shape::Path { points, closed: true, fill: white, pen: Some(pen) },
                Shape::area(left, Ink::Black),
            ]
        }
        Some(Verdict::CannotJudge) => {
            vec![Shape::rect(x - r * 1.1, y - r * 0.35, 2.2 * r, 0.7 * r, black, None)]
        }
        Some(Verdict::Stale) => {
            let d = r * 1.25;
            let points = vec![(x, y - d), (x + d, y), (x, y + d), (x - d, y)];
            vec![Shape::Path { points, closed: true, fill: white, pen: Some(pen) }]
        }
        Some(Verdict::Missing) => {
            let s = r * 0.92;
            vec![Shape::rect(x - s, y - s, 2.0 * s, 2.0 * s, white, Some(pen))]
        }
        None => {
            let ends = vec![[(x - r, y), (x + r, y)], [(x, y - r), (x, y + r)]];
            vec![Shape::Lines { ends, pen: Pen::new(Ink::Black, r * 0.42) }]
        }
    }
}

/// The left half of a disc as a polygon of 24 chords, by the rational parametrisation of the circle.
fn half_disc(x: f64, y: f64, r: f64) -> Vec<(f64, f64)> {
    (0..=24)
        .map(|i| {
            let t = f64::from(i) / 12.0 - 1.0;
            let d = 1.0 + t * t;
            (x - r * (1.0 - t * t) / d, y + r * 2.0 * t / d)
        })
        .collect()
}
