//! A comparison of left and right.

use super::{judged, wobble};
use assess::view::{Comparison, ComparisonKind, ComparisonRow};

/// Twelve stations of a left and a right wing.
pub fn left_and_right() -> Comparison {
    let row = |name: String, span_mm: Option<f64>, first_deg: f64, difference: f64| {
        let real = difference.abs() > 0.12;
        ComparisonRow {
            name,
            span_mm,
            first_deg,
            second_deg: first_deg - difference,
            difference: judged(
                "difference",
                quantity::Kind::Angle,
                difference,
                0.0512,
                span_mm.map(|_| 0.25),
            ),
            p: if real { 0.0019 } else { 0.41 },
            real,
        }
    };
    Comparison {
        format: 1,
        kind: ComparisonKind::Sides,
        first: "Tarnmere, left wing, stage ready to skin".to_owned(),
        second: "Tarnmere, right wing, stage ready to skin".to_owned(),
        parts: vec![
            row("setting".to_owned(), None, 0.21, 0.034),
            row("washout error".to_owned(), None, -0.15, 0.131),
        ],
        stations: (0..12)
            .map(|i| {
                row(format!("S{}", i + 1), Some(300.0 + 327.0 * i as f64), -0.01 * i as f64, 0.2 * wobble(i))
            })
            .collect(),
        station_alpha: 0.05 / 12.0,
        others: Vec::new(),
        not_compared: Vec::new(),
        remarks: vec!["Both wings were measured with the same instrument.".to_owned()],
    }
}
