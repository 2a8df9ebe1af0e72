//! The `[dialect]` table: what the instrument speaks.

use super::{FileFault, Table, axes, modbus};
use crate::dialect::Speaks;
use crate::{Axis, DialectSpec, MAX_VALUES, Marks, NamedAxis, NmeaSpec, Template, Text};
use quantity::table::Written;
use std::vec::Vec;

/// The keys of each dialect.
const KEYS: [(&str, Speaks); 10] = [
    ("line", Speaks::Lines),
    ("begins", Speaks::Lines),
    ("ends", Speaks::Lines),
    ("decimal", Speaks::Lines),
    ("names", Speaks::Nmea),
    ("slave", Speaks::Modbus),
    ("registers", Speaks::Modbus),
    ("every_ms", Speaks::Modbus),
    ("answer_ms", Speaks::Modbus),
    ("value", Speaks::Modbus),
];

pub(super) fn spec(table: &Table<'_, '_>) -> Option<DialectSpec> {
    let speaks = table.required_word("speaks", &Speaks::WORDS);
    for (key, of) in KEYS {
        table.known(key);
        let other = speaks.filter(|speaks| *speaks != of);
        if let (Some(speaks), Some((at, _))) = (other, table.contents().get_key_value(key)) {
            let what = FileFault::OtherDialect { key, of: of.word(), speaks: speaks.word() };
            table.mistakes().note(at.span(), what, None);
        }
    }
    match speaks? {
        Speaks::Jigtrue => Some(DialectSpec::Jigtrue),
        Speaks::Bcd => Some(DialectSpec::Bcd),
        Speaks::Lines => lines(table).map(DialectSpec::Lines),
        Speaks::Nmea => nmea(table).map(DialectSpec::Nmea),
        Speaks::Modbus => modbus::spec(table).map(DialectSpec::Modbus),
    }
}

fn lines(table: &Table<'_, '_>) -> Option<Template> {
    let right = "write its form, as in line = \"X={angle deg .2},Y={cross deg .2}\"";
    let line = table.wants("line", right).any_text("line");
    let comma = table.word("decimal", &[(".", false), (",", true)]).unwrap_or(false);
    let (begins, ends) = (mark(table, "begins"), mark(table, "ends"));
    let line = line?;
    let template = template(table, &line)?;
    for (key, mark) in [("begins", begins), ("ends", ends)] {
        if let Some(mark) = mark.filter(|mark| template.holds(*mark)) {
            let what = FileFault::MarkInForm { key, mark: char::from(mark) };
            table.mistakes().note(line.span.clone(), what, None);
        }
    }
    let template = template.between(Marks { begins, ends });
    Some(if comma { template.with_decimal_comma() } else { template })
}

/// One character, or the name of one that cannot be printed.
fn mark(table: &Table<'_, '_>, key: &'static str) -> Option<u8> {
    let word = table.any_text(key)?;
    let names =
        [("STX", 2), ("ETX", 3), ("EOT", 4), ("NUL", 0), ("CR", b'\r'), ("LF", b'\n'), ("TAB", b'\t')];
    match (word.text.as_bytes(), names.iter().find(|(name, _)| *name == word.text)) {
        (_, Some((_, byte))) | ([byte], _) if !byte.is_ascii_alphanumeric() => Some(*byte),
        _ => {
            table.refuse(
                key,
                "one character that is not a letter or digit, or STX, ETX, EOT, NUL, CR, LF or TAB",
            );
            None
        }
    }
}

fn template(table: &Table<'_, '_>, line: &Written) -> Option<Template> {
    let error = match Template::new(&line.text) {
        Ok(template) => return Some(template),
        Err(error) => error,
    };
    // The position inside the quotation marks, if nothing before it is escaped.
    let written = table.mistakes().text().get(line.span.clone()).unwrap_or_default();
    let from = written.find(&line.text).map_or(line.span.start, |at| line.span.start + at + error.at);
    table.mistakes().note(from..line.span.end, FileFault::Template(error.fault), None);
    None
}

fn nmea(table: &Table<'_, '_>) -> Option<NmeaSpec> {
    let right = "say which transducer is which, as in names = { PITCH = \"angle\", ROLL = \"cross\" }";
    let value = table.wants("names", right).value("names")?;
    let Some(names) = value.get_ref().as_table() else {
        table.wrong(value, "names", "a table");
        return None;
    };
    if !(1..=MAX_VALUES).contains(&names.len()) {
        table.mistakes().note(value.span(), FileFault::Transducers(names.len()), None);
        return None;
    }
    let mut spec = NmeaSpec::default();
    let mut whole = true;
    for (slot, (name, axis)) in spec.names.iter_mut().zip(names) {
        let text = Text::from(name.get_ref()).ok();
        if text.is_none() {
            table.mistakes().note(name.span(), FileFault::LongName, None);
        }
        let axis = table.one_of(axis, "names", &axes());
        *slot = text.zip(axis).map(|(name, axis)| NamedAxis { name, axis });
        whole &= slot.is_some();
    }
    whole.then_some(spec)
}

impl DialectSpec {
    /// The axes it can carry.
    #[must_use]
    pub fn axes(&self) -> Vec<Axis> {
        match self {
            Self::Jigtrue => Axis::ALL.to_vec(),
            Self::Bcd => std::vec![Axis::Length],
            Self::Lines(template) => template.axes().collect(),
            Self::Nmea(spec) => spec.names.iter().flatten().map(|named| named.axis).collect(),
            Self::Modbus(spec) => spec.values.iter().flatten().map(|value| value.axis).collect(),
        }
    }
}
