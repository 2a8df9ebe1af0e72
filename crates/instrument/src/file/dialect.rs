//! The `[dialect]` table: what the instrument speaks.

use super::error::nearest_or_all;
use super::{FileError, raw};
use crate::{
    Axis, Decimal, DialectSpec, MAX_REGISTERS, MAX_VALUES, ModbusSpec, NmeaSpec, Register, RegisterForm,
    Table, Template, Text, WordOrder, kind_of,
};
use std::format;
use std::ops::Range;
use std::string::{String, ToString};
use std::vec::Vec;
use toml::Spanned;

const DIALECTS: [&str; 5] = ["jigtrue", "lines", "nmea", "modbus", "bcd"];

pub(super) fn spec(text: &str, table: &Spanned<raw::Dialect>) -> Result<DialectSpec, FileError> {
    let dialect = table.get_ref();
    let speaks = dialect.speaks.get_ref().as_str();
    let lacks = |key: &str, right: &str| {
        let what = format!("`speaks = \"{speaks}\"` needs `{key}`");
        FileError::at(text, &table.span(), what, Some(right.to_string()))
    };
    let keys = [
        ("line", dialect.line.as_ref().map(Spanned::span), "lines"),
        ("names", dialect.names.as_ref().map(Spanned::span), "nmea"),
        ("slave", dialect.slave.as_ref().map(Spanned::span), "modbus"),
        ("registers", dialect.registers.as_ref().map(Spanned::span), "modbus"),
        ("every_ms", dialect.every_ms.as_ref().map(Spanned::span), "modbus"),
        ("value", dialect.value.as_ref().map(Spanned::span), "modbus"),
    ];
    if DIALECTS.contains(&speaks) {
        for (key, span, of) in keys {
            if let Some(span) = span.filter(|_| of != speaks) {
                let what = format!("`{key}` goes with `speaks = \"{of}\"`, not with \"{speaks}\"");
                return Err(FileError::at(text, &span, what, None));
            }
        }
    }
    match speaks {
        "jigtrue" => Ok(DialectSpec::Jigtrue),
        "bcd" => Ok(DialectSpec::Bcd),
        "lines" => {
            let right = "write its form, as in line = \"X={angle deg .2},Y={cross deg .2}\"";
            template(text, dialect.line.as_ref().ok_or_else(|| lacks("line", right))?).map(DialectSpec::Lines)
        }
        "nmea" => {
            let right =
                "say which transducer is which, as in names = { PITCH = \"angle\", ROLL = \"cross\" }";
            let names = dialect.names.as_ref().ok_or_else(|| lacks("names", right))?;
            let names: Vec<_> = names.get_ref().iter().collect();
            nmea(text, &names, &table.span()).map(DialectSpec::Nmea)
        }
        "modbus" => {
            let slave = dialect.slave.as_ref().ok_or_else(|| lacks("slave", "its address, 1 to 247"))?;
            let right = "one [[dialect.value]] for each value, with axis, unit, address, form and scale";
            let values = dialect.value.as_ref().ok_or_else(|| lacks("value", right))?;
            modbus(text, dialect, slave, values).map(DialectSpec::Modbus)
        }
        other => Err(unknown(text, &dialect.speaks.span(), "dialect", other, &DIALECTS)),
    }
}

fn unknown(text: &str, span: &Range<usize>, noun: &str, word: &str, known: &[&str]) -> FileError {
    FileError::at(text, span, format!("the {noun} `{word}` is not known"), Some(nearest_or_all(word, known)))
}

/// The axis that a word means.
pub(super) fn axis(text: &str, word: &Spanned<String>) -> Result<Axis, FileError> {
    let known: Vec<&str> = Axis::ALL.iter().map(|axis| axis.word()).collect();
    Axis::from_word(word.get_ref().as_bytes())
        .ok_or_else(|| unknown(text, &word.span(), "axis", word.get_ref(), &known))
}

fn one_of<T: Copy>(
    text: &str,
    noun: &str,
    word: &Spanned<String>,
    all: &[(&str, T)],
) -> Result<T, FileError> {
    let known: Vec<&str> = all.iter().map(|(word, _)| *word).collect();
    let found = all.iter().find(|(known, _)| known == word.get_ref());
    found.map(|(_, it)| *it).ok_or_else(|| unknown(text, &word.span(), noun, word.get_ref(), &known))
}

fn template(text: &str, line: &Spanned<String>) -> Result<Template, FileError> {
    Template::new(line.get_ref()).map_err(|error| {
        // The place inside the quotation marks, as long as nothing before it is written with a backslash.
        let span = line.span();
        let written = text.get(span.clone()).unwrap_or_default();
        let opening = written.find(line.get_ref().as_str());
        let from = opening.map_or(span.start, |opening| span.start + opening + error.at);
        FileError::at(text, &(from..span.end), error.fault.to_string(), None)
    })
}

fn nmea(
    text: &str,
    names: &[(&Spanned<String>, &Spanned<String>)],
    table: &Range<usize>,
) -> Result<NmeaSpec, FileError> {
    if names.is_empty() || names.len() > MAX_VALUES {
        let what = format!("`names` has {} transducers; 1 to {MAX_VALUES} can be read", names.len());
        return Err(FileError::at(text, table, what, None));
    }
    let mut spec = NmeaSpec::default();
    for (slot, (name, word)) in spec.names.iter_mut().zip(names) {
        let name = Text::new(name.get_ref()).ok_or_else(|| {
            FileError::at(text, &name.span(), "a transducer's name has at most 12 characters", None)
        })?;
        *slot = Some((name, axis(text, word)?));
    }
    Ok(spec)
}

fn modbus(
    text: &str,
    dialect: &raw::Dialect,
    slave: &Spanned<u8>,
    values: &Spanned<Vec<Spanned<raw::Register>>>,
) -> Result<ModbusSpec, FileError> {
    if !(1..=247).contains(slave.get_ref()) {
        return Err(FileError::at(text, &slave.span(), "a slave's address is 1 to 247", None));
    }
    let tables = [("holding", Table::Holding), ("input", Table::Input)];
    let table = dialect
        .registers
        .as_ref()
        .map(|word| one_of(text, "table of registers", word, &tables))
        .transpose()?;
    let every_ms = dialect.every_ms.as_ref().map_or(200, |every| *every.get_ref());
    if let Some(every) = dialect.every_ms.as_ref().filter(|every| *every.get_ref() < 10) {
        return Err(FileError::at(text, &every.span(), "`every_ms` is 10 or more", None));
    }
    if values.get_ref().is_empty() || values.get_ref().len() > MAX_VALUES {
        let what = format!("there are {} values; 1 to {MAX_VALUES} can be read", values.get_ref().len());
        return Err(FileError::at(text, &values.span(), what, None));
    }
    let mut spec = ModbusSpec {
        slave: *slave.get_ref(),
        table: table.unwrap_or(Table::Holding),
        every_ms,
        values: [None; MAX_VALUES],
    };
    for (slot, value) in spec.values.iter_mut().zip(values.get_ref()) {
        *slot = Some(register(text, value)?);
    }
    if spec.span().is_none() {
        let what = format!("the values lie more than {MAX_REGISTERS} registers apart");
        return Err(FileError::at(text, &values.span(), what, None));
    }
    Ok(spec)
}

fn register(text: &str, value: &Spanned<raw::Register>) -> Result<Register, FileError> {
    let raw = value.get_ref();
    let axis = axis(text, &raw.axis)?;
    let right = format!("`{}` is no unit of `{}`", raw.unit.get_ref(), axis.word());
    let unit = quantity::unit_named(raw.unit.get_ref())
        .filter(|unit| unit.kind() == kind_of(axis))
        .ok_or_else(|| FileError::at(text, &raw.unit.span(), right, None))?;
    let forms = [
        ("i16", RegisterForm::I16),
        ("u16", RegisterForm::U16),
        ("i32", RegisterForm::I32),
        ("u32", RegisterForm::U32),
    ];
    let form = one_of(text, "form", &raw.form, &forms)?;
    let orders = [("high-first", WordOrder::HighFirst), ("low-first", WordOrder::LowFirst)];
    let order = raw.order.as_ref().map(|word| one_of(text, "order", word, &orders)).transpose()?;
    if order.is_none() && matches!(form, RegisterForm::I32 | RegisterForm::U32) {
        let right = Some("write order = \"high-first\" or \"low-first\"".to_string());
        return Err(FileError::at(text, &value.span(), "a value of two registers needs `order`", right));
    }
    let scale = Decimal::whole(format!("{}", raw.scale.get_ref()).as_bytes())
        .filter(|scale| scale.mantissa != 0)
        .ok_or_else(|| {
            FileError::at(text, &raw.scale.span(), "`scale` is what one count is worth, not zero", None)
        })?;
    Ok(Register {
        axis,
        unit,
        address: raw.address,
        form,
        order: order.unwrap_or(WordOrder::HighFirst),
        scale,
    })
}
