//! Numbers and names as a person reads them.

mod by_touch;

pub use by_touch::by_touch;

use quantity::shown::{self, Scale};
use quantity::{Kind, Unit};
use record::{Entry, Plan, Point, PointKind, Reading, calendar};

/// Decimals of a derived value in the base unit, if no display's step says.
pub const fn usual_decimals(kind: Kind) -> usize {
    if matches!(kind, Kind::Angle | Kind::Length) { 2 } else { 1 }
}

/// Decimals in the unit shown that show a display's step: 0.1 of an inch needs one, a hundredth of a millimetre
/// three.
pub fn step_decimals(scale: Scale, step: f64) -> usize {
    let there = scale.size(step).abs();
    let round = |digits| {
        shown::significant(there, digits).parse::<f64>().is_ok_and(|n| (n - there).abs() <= 1e-6 * there)
    };
    // Halves and quarters of a round step can be steps of a display; a converted step has no end of decimals.
    if round(1) || (round(2) && there * 4.0 % 1.0 == 0.0) {
        shown::step_decimals(there)
    } else {
        scale.decimals(shown::step_decimals(step))
    }
}

/// The scale of a large figure: in degrees even if the plan's angles are written in degrees and minutes.
pub fn on_display(plan: &Plan, kind: Kind) -> Scale {
    let units = plan.shown_in;
    let units = if units.of(kind) == Unit::ArcMinute { units.with(Unit::Degree) } else { units };
    units.scale(kind)
}

/// A number with a true minus, never `-0`.
pub fn number(value: f64, places: usize) -> String {
    minus(&shown::fixed(value, places))
}

/// Turns the terminal's plain minus into a true one.
pub fn minus(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut letters = text.chars().peekable();
    while let Some(c) = letters.next() {
        // The hyphen in a unit stays: `in-lb`.
        let of_a_number = c == '-' && letters.peek().is_some_and(char::is_ascii_digit);
        out.push(if of_a_number { '\u{2212}' } else { c });
    }
    out
}

/// A value in the unit shown, with that unit: `1.62°`, `3.20 mm`, `0.126 in`. `inside` gives the decimals in the base
/// unit.
pub fn with_unit(scale: Scale, value: f64, inside: usize) -> String {
    minus(&scale.fixed_with(value, inside))
}

/// The same with its sign.
pub fn signed_unit(scale: Scale, value: f64, inside: usize) -> String {
    minus(&scale.signed_with(value, inside))
}

/// A value with half the width of its 95 % interval: `−0.38 ± 0.05°`.
pub fn with_u(scale: Scale, value: f64, u: f64) -> String {
    judged(scale, value, u, [None, None])
}

/// The same, with enough digits to keep it on its side of its limits.
pub fn judged(scale: Scale, value: f64, u: f64, limits: [Option<f64>; 2]) -> String {
    let both = scale.with_u(value, u).against(limits);
    let half = both.half().replace('±', "± ");
    let plus = shown::has_plus(scale.unit().kind(), limits[0], limits[1]);
    let number = if plus { both.signed() } else { both.plain() };
    minus(&scale.with(&format!("{number} {half}")))
}

/// The limits after the word for them.
pub fn limit(scale: Scale, lower: Option<f64>, upper: Option<f64>) -> String {
    match (lower, upper) {
        (None, None) => limits(scale, lower, upper),
        _ => format!("limit {}", limits(scale, lower, upper)),
    }
}

/// Limits in words: `±0.30°`, `at most 1.50 mm`.
pub fn limits(scale: Scale, lower: Option<f64>, upper: Option<f64>) -> String {
    scale.limits_with(lower, upper).map_or_else(|| "no limit in the plan".to_owned(), |l| minus(&l))
}

/// What a point measures, in the short words of its kind.
pub fn kind_words(kind: PointKind) -> &'static str {
    kind.row().short
}

/// What is measured at a point, with its spar: `incidence`, `rear spar, height`.
pub fn what(p: &Point) -> String {
    let kind = kind_words(p.kind());
    p.spar().map_or_else(|| kind.to_owned(), |spar| format!("{spar} spar, {kind}"))
}

/// A point in words: `S4, incidence`, `S9, rear spar, height`.
pub fn point(p: &Point) -> String {
    format!("{}, {}", p.place(), what(p))
}

/// Which way the instrument faced, if it reverses, after the name of the place: ` forward`.
pub fn faced(r: &Reading) -> String {
    r.facing.map_or(String::new(), |f| format!(" {}", r.point.kind().toward(f)))
}

/// The figures of a reading in a unit, as fine as the instrument shows: `+0.71`, `14 5/32`.
pub fn figures(scale: Scale, r: &Reading) -> String {
    let (number, step) = (scale.number(r.value), scale.size(r.resolution));
    let fraction = (scale.unit() == Unit::Inch).then(|| shown::fraction(number, step)).flatten();
    let places = step_decimals(scale, r.resolution);
    let plain =
        || if r.quantity.is_size() { scale.fixed(r.value, places) } else { scale.signed(r.value, places) };
    minus(&fraction.unwrap_or_else(plain))
}

/// The same on the plate: without a plus, and in degrees even if angles are written in degrees and minutes elsewhere.
pub fn on_plate(plan: &Plan, r: &Reading) -> String {
    figures(on_display(plan, r.quantity), r).trim_start_matches('+').to_owned()
}

/// A reading in the plan's unit, as fine as the instrument shows: `+0.71°`, `1.25 in`.
pub fn reading(plan: &Plan, r: &Reading) -> String {
    let scale = plan.shown_in.scale(r.quantity);
    scale.with(&figures(scale, r))
}

/// Why nothing can be read of an instrument that is on a port.
pub const fn unreadable(live: &bench::Live) -> Option<&'static str> {
    match live {
        bench::Live::Lost { .. } => Some("no signal"),
        bench::Live::Wrong { .. } => Some("wrong instrument"),
        _ => None,
    }
}

/// Where a log is broken, in a few words; the evidence of the gate has the rest.
pub fn broken(how: &assess::Broken) -> String {
    how.first.map_or_else(
        || "The log was changed outside its entries".to_owned(),
        |first| format!("Log broken at entry {first}"),
    )
}

/// When an entry was written, by its writer's clock: `5 Apr 2031 06:07`.
pub fn written(entry: &Entry) -> String {
    calendar::full(&entry.when().to_string())
}

/// Turns without their direction, to a part of a turn: `2¼ turns`, `⅜ turn`; `None` if it rounds to nothing.
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
