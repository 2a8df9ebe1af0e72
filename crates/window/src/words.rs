//! Numbers and names as a person reads them.

use quantity::shown::{self, WithU};
use quantity::{Kind, Unit};
use record::plan::Direction;
use record::{At, Facing, Plan, Point, PointKind, Reading};

/// Decimals that show a display's step.
#[must_use]
pub fn decimals(step: f64) -> usize {
    shown::step_decimals(step)
}

/// Decimals for a derived value in this unit, where no display's step says.
#[must_use]
pub fn usual_decimals(unit: &str) -> usize {
    if matches!(unit, "deg" | "mm") { 2 } else { 1 }
}

/// A number with a true minus, never `-0`.
#[must_use]
pub fn number(value: f64, places: usize) -> String {
    minus(&shown::fixed(value, places))
}

/// A number that shows a plus sign too.
#[must_use]
pub fn signed(value: f64, places: usize) -> String {
    minus(&shown::signed(value, places))
}

/// The plain minus of the terminal made a true one.
fn minus(text: &str) -> String {
    text.replace('-', "\u{2212}")
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
    shown::with_unit(&number, unit)
}

/// A value with half the width of its 95 % interval: `−0.38 ± 0.05°`.
#[must_use]
pub fn with_u(value: f64, u: f64, unit: &str) -> String {
    judged(value, u, [None, None], unit)
}

/// The same with the digits that keep it on its side of its limits.
#[must_use]
pub fn judged(value: f64, u: f64, limits: [Option<f64>; 2], unit: &str) -> String {
    let both = WithU::of_u(value, u).against(limits);
    let half = both.half().replace('±', "± ");
    let kind = quantity::unit_named(unit).map_or(Kind::Length, Unit::kind);
    let number = if shown::has_plus(kind, limits[0], limits[1]) { both.signed() } else { both.plain() };
    attach(format!("{} {half}", minus(&number)), unit)
}

/// Limits in words: `±0.30°`, `at most 1.50 mm`.
#[must_use]
pub fn limits(lower: Option<f64>, upper: Option<f64>, unit: &str) -> String {
    shown::limits(lower, upper).map_or_else(|| "no limit in the plan".to_owned(), |l| attach(minus(&l), unit))
}

/// What a point measures, in the short words of its kind.
#[must_use]
pub fn kind_words(kind: PointKind) -> &'static str {
    kind.row().short
}

/// A point in words: `S4 incidence`, `S9, rear spar, height`.
#[must_use]
pub fn point(p: &Point) -> String {
    match p.spar() {
        Some(spar) => format!("{}, {spar} spar, {}", p.place(), kind_words(p.kind())),
        None => format!("{}, {}", p.place(), kind_words(p.kind())),
    }
}

/// Which way an instrument faces, short.
#[must_use]
pub const fn facing_short(facing: Facing) -> &'static str {
    match facing {
        Facing::Forward => "fwd",
        Facing::Aft => "aft",
    }
}

/// A reading as the instrument showed it: `+0.71°`.
#[must_use]
pub fn reading(r: &Reading) -> String {
    let unit = r.point.kind().quantity().map_or("", quantity::Kind::base_symbol);
    if unit.is_empty() { r.text.clone() } else { signed_unit(r.value, unit, decimals(r.resolution).max(1)) }
}

/// The time of day of an instant, without seconds: `11:41`.
#[must_use]
pub fn clock(at: &str) -> String {
    at.get(11..16).unwrap_or(at).to_owned()
}

/// An instant: `5 Apr 2031 06:07`.
#[must_use]
pub fn instant(text: &str) -> String {
    const MONTHS: [&str; 12] =
        ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let part = |range| text.get(range).and_then(|t: &str| t.parse::<usize>().ok());
    match (part(8..10), part(5..7).and_then(|m| MONTHS.get(m.wrapping_sub(1))), text.get(0..4)) {
        (Some(day), Some(month), Some(year)) => format!("{day} {month} {year} {}", clock(text)),
        _ => text.to_owned(),
    }
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

/// Turns without their way, to a part of a turn: `2¼ turns`, `⅜ turn`; none where it rounds to nothing.
#[must_use]
pub fn turns(turns: f64, parts: u32) -> Option<String> {
    const EIGHTHS: [&str; 8] = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];
    let parts = parts.clamp(1, 8);
    let steps = (turns.abs() * f64::from(parts)).round() * f64::from(8 / parts);
    if steps < 1.0 || !steps.is_finite() {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a screw has few turns")]
    let eighths = steps.min(1e6) as u32;
    let whole = eighths / 8;
    let part = EIGHTHS.get((eighths % 8) as usize).copied().unwrap_or_default();
    let amount = if whole == 0 { part.to_owned() } else { format!("{whole}{part}") };
    Some(format!("{amount} {}", if eighths <= 8 { "turn" } else { "turns" }))
}

/// Which way a screw is turned.
#[must_use]
pub fn way(turns: f64) -> &'static str {
    if turns > 0.0 { "clockwise" } else { "anticlockwise" }
}

/// What a hand is told to do with a foot or support: `Raise`, `Bring aft`.
#[must_use]
pub fn move_verb(plan: &Plan, name: &str, mm: f64) -> &'static str {
    let aft = plan.support(name).is_some_and(|s| s.direction == Direction::Aft);
    match (aft, mm > 0.0) {
        (true, true) => "Bring aft",
        (true, false) => "Bring forward",
        (false, true) => "Raise",
        (false, false) => "Lower",
    }
}

/// The same text with a capital, as a sentence begins.
#[must_use]
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
