//! Numbers and names as a person reads them.

use assess::view::{Judged, PointView};
use record::{At, Point};

/// The sign a unit is written with on the screen.
#[must_use]
pub fn unit_sign(unit: &str) -> &str {
    if unit == "deg" { "°" } else { unit }
}

/// Decimals that show a step: 0.1 needs one, 0.02 needs two; at most four.
#[must_use]
pub fn decimals(step: f64) -> usize {
    let mut places = 0;
    let mut left = step.abs();
    while places < 4 && left > 0.0 && (left - left.round()).abs() > 1e-6 {
        left *= 10.0;
        places += 1;
    }
    places
}

/// Decimals for a derived value in this unit, where no display's step says.
#[must_use]
pub fn usual_decimals(unit: &str) -> usize {
    match unit {
        "deg" | "mm" => 2,
        _ => 1,
    }
}

/// A number with its sign written as a minus sign, never `-0`.
#[must_use]
pub fn number(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let zero = text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.');
    if zero { text.trim_start_matches('-').to_owned() } else { text.replace('-', "\u{2212}") }
}

/// A number that shows a plus sign too.
#[must_use]
pub fn signed(value: f64, places: usize) -> String {
    let text = number(value, places);
    let zero = text.chars().all(|c| c == '0' || c == '.');
    if value > 0.0 && !zero { format!("+{text}") } else { text }
}

/// A number with its unit: `1.62°`, `3.20 mm`.
#[must_use]
pub fn with_unit(value: f64, unit: &str, places: usize) -> String {
    attach(number(value, places), unit)
}

/// A signed number with its unit.
#[must_use]
pub fn signed_unit(value: f64, unit: &str, places: usize) -> String {
    attach(signed(value, places), unit)
}

fn attach(number: String, unit: &str) -> String {
    if unit == "deg" { format!("{number}°") } else { format!("{number} {unit}") }
}

/// A value and its expanded uncertainty (twice the standard one): `0.12° ± 0.05°`.
#[must_use]
pub fn with_u(value: f64, u: f64, unit: &str) -> String {
    let places = usual_decimals(unit);
    format!("{} ± {}", signed_unit(value, unit, places), with_unit(2.0 * u, unit, places))
}

/// A judged value with its uncertainty.
#[must_use]
pub fn judged(j: &Judged) -> String {
    with_u(j.value, j.u, j.unit.base_symbol())
}

/// Limits in words: `−0.30° to 0.30°`, `at most 1.50 mm`.
#[must_use]
pub fn limits(lower: Option<f64>, upper: Option<f64>, unit: &str) -> String {
    let places = usual_decimals(unit);
    match (lower, upper) {
        (Some(l), Some(u)) if (l + u).abs() < 1e-12 => format!("±{}", with_unit(u, unit, places)),
        (Some(l), Some(u)) => format!("{} to {}", with_unit(l, unit, places), with_unit(u, unit, places)),
        (None, Some(u)) => format!("at most {}", with_unit(u, unit, places)),
        (Some(l), None) => format!("at least {}", with_unit(l, unit, places)),
        (None, None) => "no tolerance in the plan".to_owned(),
    }
}

/// A point in words: `incidence at S4`, `height of rear spar at S9`.
#[must_use]
pub fn point(p: &Point) -> String {
    match p.spar() {
        Some(spar) => format!("{} · {} spar at {}", p.kind().row().words, spar, p.place()),
        None => format!("{} · {}", p.kind().row().words, p.place()),
    }
}

/// A point's state and verdict in a few words.
#[must_use]
pub fn standing(p: &PointView) -> &'static str {
    use assess::view::PointState;
    match (p.state, p.verdict) {
        (PointState::Missing, _) if !p.required => "not asked for",
        (PointState::Missing, _) => "missing",
        (PointState::Stale, _) => "stale",
        (PointState::Fresh, Some(v)) => v.word(),
        (PointState::Fresh, None) => "measured, no tolerance",
    }
}

/// An instant without its seconds: `2031-04-05 06:07`, in UTC.
#[must_use]
pub fn instant(text: &str) -> String {
    text.get(..16).unwrap_or(text).replace('T', " ")
}

/// The same for an entry.
#[must_use]
pub fn at(at: At) -> String {
    instant(&at.to_string())
}

/// `1 reading`, `2 readings`.
#[must_use]
pub fn count(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {many}") }
}

/// Turns of a screw to the eighth, in words: `3/8 turn clockwise`, `1 1/4 turns anticlockwise`.
#[must_use]
pub fn turns(turns: f64) -> String {
    let eighths = (turns.abs() * 8.0).round();
    if eighths == 0.0 {
        return "leave it".to_owned();
    }
    let whole = (eighths / 8.0).floor();
    let part = match eighths as u32 % 8 {
        0 => "",
        1 => "1/8",
        2 => "1/4",
        3 => "3/8",
        4 => "1/2",
        5 => "5/8",
        6 => "3/4",
        _ => "7/8",
    };
    let amount = match (whole as u32, part) {
        (0, part) => part.to_owned(),
        (n, "") => n.to_string(),
        (n, part) => format!("{n} {part}"),
    };
    let noun = if eighths <= 8.0 { "turn" } else { "turns" };
    let way = if turns > 0.0 { "clockwise" } else { "anticlockwise" };
    format!("{amount} {noun} {way}")
}
