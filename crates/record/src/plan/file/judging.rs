//! The tolerances and the rule of decision, from their tables.

use super::limits::tolerance;
use super::mistake::Table;
use crate::Limits;
use crate::plan::{Acceptance, Rule, Tolerances};
use quantity::{Degrees, Kind, Millimetres};

/// Reads the decision rule; what is left out has its default.
pub fn rule(t: &Table<'_, '_>) -> Rule {
    let mut rule = Rule::default();
    if let Some(acceptance) = t.word("acceptance", &Acceptance::WORDS) {
        rule.acceptance = acceptance;
    }
    match t.number("level") {
        Some(level) if [0.95, 0.975, 0.99].contains(&level) => rule.level = level,
        Some(_) => t.refuse("level", "0.95, 0.975 or 0.99"),
        None => {}
    }
    match t.whole("max_order") {
        Some(order @ 1..=4) => rule.max_order = Some(order as usize),
        Some(_) => t.refuse("max_order", "1, 2, 3 or 4"),
        None => {}
    }
    rule
}

/// Reads the tolerances that are given.
pub fn tolerances(t: &Table<'_, '_>) -> Tolerances {
    let degrees =
        |key| -> Option<Limits<Degrees>> { Some(tolerance(t, key, Kind::Angle)?.map(Degrees::new)) };
    Tolerances {
        setting: degrees("setting"),
        washout: degrees("washout"),
        station: degrees("station"),
        neighbour: degrees("neighbour"),
        left_right: degrees("left_right"),
        straightness: t.positive("straightness", Kind::Length).map(Millimetres::new),
        level: degrees("level"),
        cross: degrees("cross"),
        square: degrees("square"),
        spacing: tolerance(t, "spacing", Kind::Length).map(|l| l.map(Millimetres::new)),
    }
}
