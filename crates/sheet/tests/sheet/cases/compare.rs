//! A comparison of left and right.

use assess::Verdict;
use assess::view::{Comparison, ComparisonKind, ComparisonRow, Judged};
use quantity::Kind;

/// A deterministic figure between -1 and 1 that looks random.
fn wobble(i: usize) -> f64 {
    let mut n = i as u32 + 1;
    for _ in 0..3 {
        n = (n ^ (n >> 7)).wrapping_mul(0x9E37_79B1);
    }
    f64::from(n >> 20) / 2047.5 - 1.0
}

/// A judged value.
fn judged(what: &str, unit: Kind, value: f64, u: f64, limit: Option<f64>) -> Judged {
    let verdict = limit.map(|limit| match value.abs() {
        v if v + 1.645 * u <= limit => Verdict::Within,
        v if v - 1.645 * u > limit => Verdict::Outside,
        _ => Verdict::Undecided,
    });
    Judged {
        what: what.to_owned(),
        unit,
        value,
        u,
        lower95: value - 1.96 * u,
        upper95: value + 1.96 * u,
        lower: limit.map(|l| -l),
        upper: limit,
        verdict,
        probability: limit.map(|_| 0.98),
        decide: None,
        spread: None,
        units: quantity::Units::INSIDE,
    }
}

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
        verdict: Some(Verdict::Undecided),
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
