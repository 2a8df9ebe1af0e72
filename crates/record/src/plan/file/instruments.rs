//! Instruments from their tables.

use super::checks::Names;
use super::table::Table;
use crate::{Date, Instrument, InstrumentKind};
use quantity::{Kind, Unit};

const KINDS: [(&str, InstrumentKind); 6] = [
    ("inclinometer", InstrumentKind::Inclinometer),
    ("caliper", InstrumentKind::Caliper),
    ("tape", InstrumentKind::Tape),
    ("torque-wrench", InstrumentKind::TorqueWrench),
    ("tensiometer", InstrumentKind::Tensiometer),
    ("other", InstrumentKind::Other),
];

/// Largest error in proportion to the value that an instrument can state and still be one.
const MOST_SCALE: f64 = 0.5;
/// Largest thermal expansion of a tape or caliper, per kelvin.
const MOST_EXPANSION: f64 = 1e-3;

/// One instrument; its numbers are bare in the unit used inside, or texts with a unit.
pub fn instrument(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Instrument> {
    let name = names.take("instrument", t.name("name"));
    let kind = t.required_word("kind", &KINDS);
    if t.value("resolution").is_none() {
        t.missing("resolution", "give the step of its display");
    }
    let size = |key: &'static str, zero: bool| {
        let value = match kind.and_then(InstrumentKind::quantity) {
            Some(quantity) => t.quantity(key, quantity),
            None => t.any_quantity(key),
        }?;
        if value > 0.0 || (zero && value == 0.0) {
            return Some(value);
        }
        t.wrong(t.value(key)?, key, if zero { "zero or more" } else { "above zero" });
        None
    };
    let resolution = size("resolution", false);
    let quantity = kind.and_then(InstrumentKind::quantity);
    let unit = unit(t, quantity);
    let range = match quantity {
        Some(quantity) => t.limits("range", quantity),
        None => t.limits_any("range"),
    };
    let (accuracy, repeatability) = (size("accuracy", true), size("repeatability", true));
    let (checked, due) = (date(t, "checked"), date(t, "due"));
    if let (Some(checked), Some(due)) = (&checked, &due)
        && due < checked
        && let Some(at) = t.value("due")
    {
        t.wrong(at, "due", &format!("on or after the day it was checked, {checked}"));
    }
    Some(Instrument {
        name: name?,
        number: t.text("number").map(|(number, _)| number),
        kind: kind?,
        unit,
        resolution: resolution?,
        range,
        accuracy,
        repeatability,
        scale: t.number_within("scale", MOST_SCALE),
        expansion: t.number_within("expansion", MOST_EXPANSION),
        checked,
        due,
    })
}

/// The unit it shows: as `unit` says, else the one its resolution is written in. A display in degrees and minutes is no
/// reason to take a bare number for minutes.
fn unit(t: &Table<'_, '_>, quantity: Option<Kind>) -> Option<Unit> {
    if let Some((text, span)) = t.text("unit") {
        let unit = quantity::unit_named(&text).filter(|unit| quantity.is_none_or(|q| q == unit.kind()));
        if unit.is_none() {
            let what =
                "`unit` must be one that it can read, such as \"deg\", \"mm/m\", \"mm\", \"in\" or \"in-lb\"";
            t.mistakes().note(span, what, None);
        }
        return unit;
    }
    t.written_unit("resolution")
        .filter(|unit| !matches!(unit, Unit::ArcMinute | Unit::ArcSecond | Unit::Ratio))
}

/// A calendar date, as a text or as TOML's own.
fn date(t: &Table<'_, '_>, key: &'static str) -> Option<Date> {
    let value = t.value(key)?;
    let written = match value.get_ref().as_datetime() {
        Some(stamp) => stamp.to_string(),
        None => t.text(key)?.0,
    };
    let date = written.parse::<Date>();
    date.map_err(|why| t.mistakes().note(value.span(), format!("`{key}`: {why}"), None)).ok()
}
