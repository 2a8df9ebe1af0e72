//! Reads cables and bolts.

use super::super::checks::Names;
use super::super::limits::{lower_upper, tolerance};
use super::super::mistake::Table;
use crate::Limits;
use crate::plan::{Bolt, Cable, ChartRow, DragRule, Tension, WrenchExtension};
use quantity::{Kind, Millimetres};

/// The longest extension of a wrench, in lever lengths.
const LONGEST: f64 = 10.0;

/// Checks that the limits of a torque or a tension are not below zero.
fn not_below_zero(t: &Table<'_, '_>, limits: Option<Limits<f64>>) {
    for (key, limit) in [("lower", limits.and_then(|l| l.lower)), ("upper", limits.and_then(|l| l.upper))] {
        if limit.is_some_and(|limit| limit < 0.0) {
            t.refuse(key, "zero or more");
        }
    }
}

pub fn cable(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Cable> {
    let name = names.take("cable", t.name("name"));
    let mut rows = t.list("chart", "a row of a chart", |row| {
        let at = row.required("at", Kind::Temperature);
        let tension = row.required("tension", Kind::Force);
        if tension.is_some_and(|tension| tension <= 0.0) {
            row.refuse("tension", "above zero");
        }
        Some(ChartRow { at: at?, tension: tension? })
    });
    rows.sort_by(|a, b| a.at.total_cmp(&b.at));
    if rows.len() < 2 || rows.windows(2).any(|pair| pair[0].at == pair[1].at) {
        t.refuse(
            "chart",
            "at least two rows, { at = \"20 °C\", tension = \"70 lbf\" }, each at a different temperature",
        );
    }
    let limits = lower_upper(t, Kind::Force);
    let tolerance = tolerance(t, "tolerance", Kind::Force);
    let (size, mut riser) = (t.string("size"), t.string("riser"));
    let mut temperature_within = t.number("temperature_within");
    let tension = match (t.has("chart"), t.has("tolerance"), limits) {
        (true, true, None) => Tension::Chart { rows, tolerance: tolerance? },
        (false, false, limits) => {
            not_below_zero(t, limits);
            Tension::Fixed(limits)
        }
        _ => {
            t.missing("tolerance", "give lower and upper, or a chart with a tolerance about it");
            return None;
        }
    };
    if temperature_within.is_some_and(|within| !(0.0..=50.0).contains(&within)) {
        t.refuse("temperature_within", "from 0 to 50 K");
    }
    if let Tension::Fixed(_) = &tension {
        t.unused(
            "temperature_within",
            "left out without a chart: the tension then does not depend on temperature",
        );
        temperature_within = None;
    }
    if size.is_none() {
        t.unused("riser", "left out without the size of the cable");
        riser = None;
    }
    Some(Cable { name: name?, tension, size, riser, temperature_within })
}

pub fn bolt(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Bolt> {
    let name = names.take("bolt", t.name("name"));
    let limits = lower_upper(t, Kind::Torque);
    not_below_zero(t, limits);
    let drag = tolerance(t, "drag", Kind::Torque);
    if drag.and_then(|drag| drag.lower).is_some_and(|least| least < 0.0) {
        t.refuse("drag", "the drag of the nut, as { lower = \"3.5 in-lb\" }");
    }
    let drag_rule = t.word("drag_rule", &DragRule::WORDS);
    if drag_rule == Some(DragRule::AddFromThird) && limits.is_none_or(|l| l.lower.is_none()) {
        t.missing("lower", "this rule compares the drag with the lowest torque wanted");
    }
    let (lever, length) = (t.positive("lever", Kind::Length), t.zero_or_more("extension", Kind::Length));
    let angle = t.quantity("angle", Kind::Angle).unwrap_or(0.0);
    if !t.has("lever") && !t.has("extension") {
        t.unused("angle", "left out without an extension: give lever and extension too");
    }
    let right = "give both lever and extension, or neither";
    let extension = t.both(("lever", lever), ("extension", length), right).map(|(lever, length)| {
        let gain = 1.0 + length * libm::cos(angle.to_radians()) / lever;
        if gain <= 0.01 {
            t.refuse("extension", "such that the nut is not at the grip or behind it");
        } else if length > LONGEST * lever {
            t.refuse("extension", "at most ten times the lever");
        }
        WrenchExtension { lever: Millimetres::new(lever), length: Millimetres::new(length), angle }
    });
    Some(Bolt { name: name?, limits, extension, drag, drag_rule })
}
