//! Instruments from their tables.

use super::checks::Names;
use super::table::Table;
use crate::{Date, Instrument, InstrumentKind};

const KINDS: [(&str, InstrumentKind); 5] = [
    ("inclinometer", InstrumentKind::Inclinometer),
    ("caliper", InstrumentKind::Caliper),
    ("tape", InstrumentKind::Tape),
    ("torque-wrench", InstrumentKind::TorqueWrench),
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
        resolution: resolution?,
        accuracy,
        repeatability,
        scale: t.number_within("scale", MOST_SCALE),
        expansion: t.number_within("expansion", MOST_EXPANSION),
        checked,
        due,
    })
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
