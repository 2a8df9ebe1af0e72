//! Instruments from their tables.

use super::checks::Names;
use super::limits::{tolerance, tolerance_any};
use super::mistake::{Mistake, Table};
use crate::{Date, DialRow, DialTable, Instrument, TapeFacts};
use quantity::table::Written;
use quantity::{InstrumentKind, Kind};

/// Largest believable proportional error of an instrument.
const MOST_SCALE: f64 = 0.5;
/// Largest believable thermal expansion of a tape or caliper, per kelvin.
const MOST_EXPANSION: f64 = 1e-3;

/// Reads one instrument; its numbers are bare in the base unit, or texts with a unit.
pub fn instrument(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Instrument> {
    let name = names.take("instrument", t.name("name"));
    let kind = t.required_word("kind", &InstrumentKind::WORDS);
    t.wants("resolution", "give the step of its display");
    let (tape, tables) = (tape(t, kind), tables(t, kind));
    let divisions = t.has("table");
    // A dial that only its table converts to a force has no unit.
    let size = |key| if divisions { t.number(key) } else { in_its_unit(t, key, kind) };
    let limit = |key| t.not_below_zero(key, size(key)?);
    let resolution = size("resolution").and_then(|step| t.above_zero("resolution", step));
    let quantity = kind.and_then(InstrumentKind::quantity);
    let unit = if divisions { None } else { t.shown_unit(quantity) };
    if divisions {
        t.refuse("unit", "left out beside an [[instrument.table]]: its dial shows divisions");
    }
    let range = match quantity {
        _ if divisions => tolerance_any(t, "range"),
        Some(quantity) => tolerance(t, "range", quantity),
        None => tolerance_any(t, "range"),
    };
    let (accuracy, repeatability) = (limit("accuracy"), limit("repeatability"));
    let (checked, due) = (date(t, "checked"), date(t, "due"));
    if let (Some(checked), Some(due)) = (&checked, &due)
        && due < checked
    {
        t.refuse("due", format!("on or after the day it was checked, {checked}"));
    }
    let number = t.string("number");
    let scale = t.number_within("scale", MOST_SCALE);
    let expansion = t.number_within("expansion", MOST_EXPANSION);
    Some(Instrument {
        name: name?,
        number,
        kind: kind?,
        unit,
        resolution: resolution?,
        range,
        accuracy,
        repeatability,
        scale,
        expansion,
        tape,
        tables,
        checked,
        due,
    })
}

fn in_its_unit(t: &Table<'_, '_>, key: &'static str, kind: Option<InstrumentKind>) -> Option<f64> {
    match kind.and_then(InstrumentKind::quantity) {
        Some(quantity) => t.quantity(key, quantity),
        None => t.any_quantity(key),
    }
}

/// How pull and weight affect a tape.
fn tape(t: &Table<'_, '_>, kind: Option<InstrumentKind>) -> Option<TapeFacts> {
    let pull = t.positive("pull", Kind::Force);
    let [mass, section, modulus] = ["mass", "section", "modulus"].map(|key| (key, t.number_above_zero(key)));
    let first = ["pull", "mass", "section", "modulus"].into_iter().find(|key| t.has(key))?;
    if kind != Some(InstrumentKind::Tape) {
        t.refuse(first, "left out: only a tape has it");
    }
    t.wants("pull", "give the pull at which the tape reads true, as \"50 N\"");
    _ = t.both(section, modulus, "give both: section in mm² and modulus in N/mm²");
    Some(TapeFacts { pull: pull?, mass: mass.1, section: section.1, modulus: modulus.1 })
}

/// The tables of a tensiometer.
fn tables(t: &Table<'_, '_>, kind: Option<InstrumentKind>) -> Vec<DialTable> {
    if kind != Some(InstrumentKind::Tensiometer) {
        t.refuse("table", "left out: only a tensiometer has tables");
    }
    t.list("table", "a [[instrument.table]]", |table| {
        let cable = table.required_text("cable").map(|cable| cable.text);
        let riser = table.string("riser");
        let accuracy = table.zero_or_more("accuracy", Kind::Force);
        let mut rows = table.list("rows", "a row of a table", |row| {
            let dial = row.wants("dial", "write { dial = 48, force = \"70 lbf\" }").number("dial");
            let force = row.required("force", Kind::Force);
            Some(DialRow { dial: dial?, force: force? })
        });
        rows.sort_by(|a, b| a.dial.total_cmp(&b.dial));
        let found = DialTable { cable: cable?, riser, accuracy, rows };
        if !found.is_sound() {
            t.mistakes().note(table.span(), Mistake::DialTable, None);
        }
        Some(found)
    })
}

/// A calendar date.
fn date(t: &Table<'_, '_>, key: &'static str) -> Option<Date> {
    let Written { text, span } = t.date(key)?;
    text.parse().map_err(|why| t.mistakes().note(span, Mistake::Date { key, why }, None)).ok()
}
