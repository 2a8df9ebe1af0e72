//! Words around numbers.

use super::decimal::fixed;
use crate::Kind;
use alloc::borrow::ToOwned;
use alloc::format;
use alloc::string::{String, ToString};
use core::fmt;

/// A number in text with its unit after it: `1.62°`, `3.20 mm`.
pub fn with_unit(number: &str, unit: &str) -> String {
    if matches!(unit, "deg" | "°") { format!("{number}°") } else { format!("{number} {unit}") }
}

/// The text with its first letter in capitals.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `1 reading`, `2 readings`, `no readings`.
pub fn count<N: Number>(n: N, one: &str, many: &str) -> String {
    if n == N::from(0) { format!("no {many}") } else { counted(n, one, many) }
}

/// The same with a figure for zero: `0 readings`.
pub fn counted<N: Number>(n: N, one: &str, many: &str) -> String {
    format!("{n} {}", if n == N::from(1) { one } else { many })
}

/// A whole number of things.
pub trait Number: fmt::Display + PartialEq + From<u8> {}

impl Number for usize {}
impl Number for u32 {}
impl Number for u64 {}

/// A probability of conformity: a whole number between 10 and 90 %, else with one decimal, `>99.9 %`, `<0.1 %`.
pub fn percent(p: f64) -> String {
    if !(0.0..=1.0).contains(&p) {
        return "unknown".to_owned();
    }
    let percent = p * 100.0;
    let decimals = usize::from(!(10.0..=90.0).contains(&percent));
    match fixed(percent, decimals).as_str() {
        "100.0" => ">99.9 %".to_owned(),
        "0.0" => "<0.1 %".to_owned(),
        text => format!("{text} %"),
    }
}

/// A p-value, never rounded to zero: `p 0.012`, `p < 0.001`.
pub fn significance(p: f64) -> String {
    if p < 0.001 { "p < 0.001".to_owned() } else { format!("p {}", fixed(p, 3)) }
}

/// A number in whole steps of a scale marked in halves, quarters, eighths and so on down to 1/128: `14 5/32`, `-3/8`.
/// `None` if it is not a multiple of the step, or the step is none of these.
pub fn fraction(number: f64, step: f64) -> Option<String> {
    let below = libm::round(1.0 / step);
    let marked = [2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0].contains(&below);
    let count = libm::round(number.abs() * below);
    if !(marked && (step * below - 1.0).abs() < 1e-6 && count < 1e9) {
        return None;
    }
    if (number.abs() * below - count).abs() > 1e-3 {
        return None;
    }
    let (mut above, mut below) = (count as u64, below as u64);
    let sign = if number < 0.0 && above > 0 { "-" } else { "" };
    let whole = above / below;
    above %= below;
    while above > 0 && above % 2 == 0 {
        above /= 2;
        below /= 2;
    }
    Some(match (whole, above) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, above) => format!("{sign}{above}/{below}"),
        (whole, above) => format!("{sign}{whole} {above}/{below}"),
    })
}

/// Whether a value with these limits is a size, a torque or a clearance: it has no direction and is shown without a
/// plus.
pub fn is_size(lower: Option<f64>, upper: Option<f64>) -> bool {
    match (lower, upper) {
        (Some(lower), _) => lower >= 0.0,
        (None, upper) => upper.is_some(),
    }
}

/// Whether a value is written with a plus. A quantity without direction is not, nor is a value whose limits make it a
/// size. Limits on both sides of zero belong to a difference, which always has a direction.
pub fn has_plus(kind: Kind, lower: Option<f64>, upper: Option<f64>) -> bool {
    !is_size(lower, upper) && (!kind.is_size() || lower.is_some_and(|l| l < 0.0))
}

/// Turns of a screw to the nearest eighth, with the direction: `3/8 turn clockwise`, `3 1/4 turns anticlockwise`;
/// `None` if they round to zero. Clockwise is positive.
pub fn turns(turns: f64) -> Option<String> {
    let amount = turns_only(turns)?;
    Some(format!("{amount} {}", way(turns)))
}

/// Which way a screw is turned; clockwise is positive.
pub const fn way(turns: f64) -> &'static str {
    if turns > 0.0 { "clockwise" } else { "anticlockwise" }
}

/// The same without the direction: `3 1/4 turns`.
pub fn turns_only(turns: f64) -> Option<String> {
    const PARTS: [&str; 8] = ["", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
    let eighths = libm::round(turns.abs() * 8.0);
    if !(1.0..1e9).contains(&eighths) {
        return None;
    }
    let (whole, part) = (eighths as u32 / 8, PARTS[eighths as usize % 8]);
    let amount = match (whole, part) {
        (0, part) => part.to_owned(),
        (whole, "") => whole.to_string(),
        (whole, part) => format!("{whole} {part}"),
    };
    Some(format!("{amount} {}", if eighths <= 8.0 { "turn" } else { "turns" }))
}
