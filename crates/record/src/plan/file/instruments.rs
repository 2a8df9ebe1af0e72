//! Instruments from their tables.

use super::checks::Names;
use super::mistake::Mistake;
use super::table::{Name, Table};
use crate::plan::Plan;
use crate::{Date, DialRow, DialTable, Instrument, TapeFacts};
use quantity::{InstrumentKind, Kind, Unit};

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
    let divisions = t.value("table").is_some();
    let size = |key: &'static str, zero: bool| {
        // A dial that only its table converts to a force has no unit.
        let value = if divisions { t.number(key) } else { in_its_unit(t, key, kind) }?;
        if value > 0.0 || (zero && value == 0.0) {
            return Some(value);
        }
        t.refuse(key, if zero { "zero or more" } else { "above zero" });
        None
    };
    let resolution = size("resolution", false);
    let quantity = kind.and_then(InstrumentKind::quantity);
    let unit = if divisions { None } else { unit(t, quantity) };
    if divisions {
        t.refuse("unit", "left out beside an [[instrument.table]]: its dial shows divisions");
    }
    let range = match quantity {
        _ if divisions => t.limits_any("range"),
        Some(quantity) => t.limits("range", quantity),
        None => t.limits_any("range"),
    };
    let (accuracy, repeatability) = (size("accuracy", true), size("repeatability", true));
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
    let above_zero = |key| t.number_above_zero(key);
    let (mass, section, modulus) = (above_zero("mass"), above_zero("section"), above_zero("modulus"));
    let given = [
        ("pull", pull.is_some()),
        ("mass", mass.is_some()),
        ("section", section.is_some()),
        ("modulus", modulus.is_some()),
    ];
    let first = given.into_iter().find(|(_, given)| *given).map(|(key, _)| key)?;
    if kind != Some(InstrumentKind::Tape) {
        t.refuse(first, "left out: only a tape has it");
    }
    if pull.is_none() {
        t.missing("pull", "give the pull at which the tape reads true, as \"50 N\"");
    }
    if section.is_some() != modulus.is_some() {
        t.missing("section", "give both: section in mm² and modulus in N/mm²");
    }
    Some(TapeFacts { pull: pull?, mass, section, modulus })
}

/// The tables of a tensiometer.
fn tables(t: &Table<'_, '_>, kind: Option<InstrumentKind>) -> Vec<DialTable> {
    if kind != Some(InstrumentKind::Tensiometer) {
        t.refuse("table", "left out: only a tensiometer has tables");
    }
    let table = |table: Table<'_, '_>| {
        let cable = table.required_text("cable").map(|cable| cable.text);
        let riser = table.string("riser");
        let accuracy = table.zero_or_more("accuracy", Kind::Force);
        let rows = table.tables("rows", "a row of a table", Plan::MAX_ITEMS).into_iter();
        let mut rows: Vec<DialRow> = rows
            .filter_map(|row| {
                row.wants("dial", "write { dial = 48, force = \"70 lbf\" }");
                let (dial, force) = (row.number("dial"), row.required("force", Kind::Force));
                row.finish();
                Some(DialRow { dial: dial?, force: force? })
            })
            .collect();
        rows.sort_by(|a, b| a.dial.total_cmp(&b.dial));
        let span = table.span();
        table.finish();
        let found = DialTable { cable: cable?, riser, accuracy, rows };
        if !found.is_sound() {
            t.mistakes().note(span, Mistake::DialTable, None);
        }
        Some(found)
    };
    let tables = t.tables("table", "a [[instrument.table]]", Plan::MAX_ITEMS);
    tables.into_iter().filter_map(table).collect()
}

/// The unit it shows: from `unit`, else the unit of its resolution. A display in degrees and minutes does not mean
/// that a bare number is minutes.
fn unit(t: &Table<'_, '_>, quantity: Option<Kind>) -> Option<Unit> {
    if let Some(Name { text, span }) = t.text("unit") {
        let unit = quantity::unit_named(&text).filter(|unit| quantity.is_none_or(|q| q == unit.kind()));
        if unit.is_none() {
            let wanted = "one that it can read, such as \"deg\", \"mm/m\", \"mm\", \"in\" or \"in-lb\"";
            t.mistakes().note(span, Mistake::MustBe { key: "unit", wanted: wanted.into() }, None);
        }
        return unit;
    }
    t.written_unit("resolution")
        .filter(|unit| !matches!(unit, Unit::ArcMinute | Unit::ArcSecond | Unit::Ratio))
}

/// A calendar date, as a text or as a TOML date.
fn date(t: &Table<'_, '_>, key: &'static str) -> Option<Date> {
    let value = t.value(key)?;
    let written = match value.get_ref().as_datetime() {
        Some(stamp) => stamp.to_string(),
        None => t.text(key)?.text,
    };
    let date = written.parse::<Date>();
    date.map_err(|why| t.mistakes().note(value.span(), Mistake::Date { key, why }, None)).ok()
}
