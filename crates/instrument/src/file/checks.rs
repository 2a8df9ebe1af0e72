//! From the written file to an instrument; each value is checked where it is written.

use super::{FileError, InstrumentFile, InstrumentKind, Parity, PortSettings, Positive, dialect, raw};
use crate::{Axis, DialectSpec, SettleSettings, kind_of};
use quantity::{Kind, Unit};
use std::format;
use std::string::{String, ToString};
use std::vec::Vec;
use toml::{Spanned, Value};

/// A written file and what it means.
pub(super) fn checked(text: &str) -> Result<InstrumentFile, FileError> {
    let file: raw::File = toml::from_str(text).map_err(|error| FileError::of_toml(text, &error))?;
    let dialect = dialect::spec(text, &file.dialect)?;
    let axes = file.axes.get_ref();
    let measures = dialect::axis(text, &axes.measures)?;
    let kind = *file.kind.get_ref();
    meets(text, &file, &dialect, measures)?;
    let unit = kind_of(measures);
    let size = |key: &str, value: &Spanned<Value>, zero: bool| size(text, key, value, unit, zero);
    let resolution = size("resolution", &file.resolution, false)?;
    let maybe = |key: &str, value: &Option<Spanned<Value>>| {
        value.as_ref().map(|value| size(key, value, true)).transpose()
    };
    let scale = file.scale.as_ref().map(|scale| *scale.get_ref());
    if let Some(scale) = file.scale.as_ref().filter(|scale| !(0.0..=0.5).contains(scale.get_ref())) {
        return Err(FileError::at(
            text,
            &scale.span(),
            "`scale` is a relative error, such as 0.001 for 0.1 %",
            None,
        ));
    }
    let (checked, due) = (date(text, "checked", &file.checked)?, date(text, "due", &file.due)?);
    if let (Some(before), Some(after), Some(at)) = (&checked, &due, &file.due)
        && after < before
    {
        return Err(FileError::at(
            text,
            &at.span(),
            format!("`due` is before the day it was checked, {before}"),
            None,
        ));
    }
    Ok(InstrumentFile {
        name: one_line(text, "name", &file.name)?,
        number: file.number.as_ref().map(|number| one_line(text, "number", number)).transpose()?,
        kind,
        unit: shown_in(text, &file, unit)?,
        resolution,
        range: file.range.as_ref().map(|value| size("range", value, false)).transpose()?,
        accuracy: maybe("accuracy", &file.accuracy)?,
        repeatability: maybe("repeatability", &file.repeatability)?,
        scale,
        checked,
        due,
        port: port(text, &file.port)?,
        dialect,
        measures,
        positive: axes.positive.as_ref().map_or(Positive::ArrowEndUp, |positive| *positive.get_ref()),
        settle: settle(text, &file.settle, resolution, unit)?,
    })
}

/// The unit its display shows: as `unit` says, else the one its resolution is written in.
fn shown_in(text: &str, file: &raw::File, kind: Kind) -> Result<Option<Unit>, FileError> {
    if let Some(word) = &file.unit {
        let unit = quantity::unit_named(word.get_ref()).filter(|unit| unit.kind() == kind);
        let what = format!("`unit` must be a unit of {}s, such as \"{}\"", kind.word(), kind.base_symbol());
        return unit.map(Some).ok_or_else(|| FileError::at(text, &word.span(), what, None));
    }
    let written = file.resolution.get_ref().as_str().and_then(|text| quantity::typed_any(text).ok());
    // A display in degrees and minutes is no reason to take a bare number for minutes.
    let plain = |unit: &Unit| !matches!(unit, Unit::ArcMinute | Unit::ArcSecond | Unit::Ratio);
    Ok(written.map(|typed| typed.unit).filter(plain))
}

/// Whether kind, dialect and axes go together.
fn meets(text: &str, file: &raw::File, dialect: &DialectSpec, measures: Axis) -> Result<(), FileError> {
    let axes = file.axes.get_ref();
    let carried: Vec<Axis> = match dialect {
        DialectSpec::Jigtrue => Axis::ALL.to_vec(),
        DialectSpec::Bcd => std::vec![Axis::Length],
        DialectSpec::Lines(template) => template.axes().collect(),
        DialectSpec::Nmea(spec) => spec.names.iter().flatten().map(|(_, axis)| *axis).collect(),
        DialectSpec::Modbus(spec) => spec.values.iter().flatten().map(|value| value.axis).collect(),
    };
    if !carried.contains(&measures) {
        let words: Vec<&str> = carried.iter().map(|axis| axis.word()).collect();
        let what = format!("the dialect carries no `{}`; it carries {}", measures.word(), words.join(", "));
        return Err(FileError::at(text, &axes.measures.span(), what, None));
    }
    let expected = match file.kind.get_ref() {
        InstrumentKind::Inclinometer => Some(Kind::Angle),
        InstrumentKind::Caliper | InstrumentKind::Tape => Some(Kind::Length),
        InstrumentKind::TorqueWrench => Some(Kind::Torque),
        InstrumentKind::Other => None,
    };
    if let Some(expected) = expected.filter(|expected| *expected != kind_of(measures)) {
        let (kind, is) = (file.kind.get_ref().word(), measures.word());
        let what =
            format!("an instrument of the kind `{kind}` measures {}s, and `{is}` is none", expected.word());
        return Err(FileError::at(text, &axes.measures.span(), what, None));
    }
    if kind_of(measures) == Kind::Angle && axes.positive.is_none() {
        let right = "write positive = \"arrow end up\" or \"arrow end down\": with the arrow toward the leading edge, \
                     which way must it tilt for its value to grow?";
        let what = "`[axes]` needs `positive` for an angle";
        return Err(FileError::at(text, &file.axes.span(), what, Some(right.to_string())));
    }
    Ok(())
}

fn one_line(text: &str, key: &str, value: &Spanned<String>) -> Result<String, FileError> {
    let it = value.get_ref();
    let fits =
        !it.is_empty() && it.trim() == it && it.chars().count() <= 80 && !it.chars().any(char::is_control);
    if fits {
        return Ok(it.clone());
    }
    let what = format!("`{key}` is one line of 1 to 80 characters, without spaces around it");
    Err(FileError::at(text, &value.span(), what, None))
}

/// A number in the unit used inside, or a text with a unit.
fn size(text: &str, key: &str, value: &Spanned<Value>, kind: Kind, zero: bool) -> Result<f64, FileError> {
    let wrong = |what: String| FileError::at(text, &value.span(), what, None);
    let number = match value.get_ref() {
        Value::Float(number) => *number,
        Value::Integer(number) => *number as f64,
        Value::String(typed) => match quantity::typed(typed, kind) {
            Ok(typed) => typed.amount.base(),
            Err(error) => return Err(wrong(format!("`{key}`: {error}"))),
        },
        _ => {
            let what = format!("`{key}` is a number in {} or a text with its unit", kind.base_symbol());
            return Err(wrong(what));
        }
    };
    if number.is_finite() && (number > 0.0 || (zero && number == 0.0)) {
        return Ok(number);
    }
    Err(wrong(format!("`{key}` must be {}", if zero { "zero or more" } else { "above zero" })))
}

/// A calendar date, as a text or as TOML's own.
fn date(text: &str, key: &str, value: &Option<Spanned<Value>>) -> Result<Option<String>, FileError> {
    let Some(value) = value else { return Ok(None) };
    let written = match value.get_ref() {
        Value::String(text) => text.clone(),
        Value::Datetime(date) => date.to_string(),
        _ => String::new(),
    };
    // TOML's own reader of dates knows the calendar.
    let date = written.parse::<toml::value::Datetime>().ok();
    if date.is_some_and(|date| date.date.is_some() && date.time.is_none() && date.offset.is_none()) {
        return Ok(Some(written));
    }
    Err(FileError::at(text, &value.span(), format!("`{key}` is a date, such as 2031-04-05"), None))
}

fn port(text: &str, port: &raw::Port) -> Result<PortSettings, FileError> {
    let baud = *port.baud.get_ref();
    if !(50..=4_000_000).contains(&baud) {
        return Err(FileError::at(text, &port.baud.span(), "`baud` is 50 to 4000000", None));
    }
    let either = |key: &str, value: &Option<Spanned<u8>>, one: u8, other: u8, usual: u8| match value {
        None => Ok(usual),
        Some(value) if [one, other].contains(value.get_ref()) => Ok(*value.get_ref()),
        Some(value) => Err(FileError::at(text, &value.span(), format!("`{key}` is {one} or {other}"), None)),
    };
    Ok(PortSettings {
        baud,
        data_bits: either("data_bits", &port.data_bits, 7, 8, 8)?,
        parity: port.parity.unwrap_or(Parity::None),
        stop_bits: either("stop_bits", &port.stop_bits, 1, 2, 1)?,
    })
}

fn settle(
    text: &str,
    written: &raw::Settle,
    resolution: f64,
    unit: Kind,
) -> Result<SettleSettings, FileError> {
    let noise = written.noise.as_ref().map(|noise| size(text, "noise", noise, unit, true)).transpose()?;
    let mut settings = SettleSettings::from_instrument(resolution, noise.unwrap_or(0.0));
    if let Some(band) = &written.band {
        settings.band = size(text, "band", band, unit, false)?;
        settings.noise = crate::Noise::Stated;
        if settings.band < resolution {
            let what = "`band` is less than one step of the display, which would never settle";
            return Err(FileError::at(text, &band.span(), what, None));
        }
    }
    let within = |key: &str, value: &Spanned<u64>, most: u64| {
        let it = *value.get_ref();
        let what = format!("`{key}` is 100 to {most}");
        if (100..=most).contains(&it) { Ok(it) } else { Err(FileError::at(text, &value.span(), what, None)) }
    };
    match &written.hold_ms {
        Some(hold) if *hold.get_ref() == 0 => (settings.hold_ms, settings.samples) = (0, 1),
        Some(hold) => settings.hold_ms = within("hold_ms", hold, 120_000)?,
        None => {}
    }
    if let Some(lost) = &written.lost_after_ms {
        settings.lost_after_ms = within("lost_after_ms", lost, 600_000)?;
    }
    if let Some(samples) = &written.samples {
        if !(1..=100_000).contains(samples.get_ref()) {
            return Err(FileError::at(text, &samples.span(), "`samples` is 1 to 100000", None));
        }
        if settings.each_value() && *samples.get_ref() > 1 {
            let what = "with `hold_ms = 0` each value is a reading, and `samples` has nothing to say";
            return Err(FileError::at(text, &samples.span(), what, None));
        }
        settings.samples = *samples.get_ref();
    }
    Ok(settings)
}
