//! One line of a table of readings.

use super::super::rounds::Rounds;
use super::super::take::as_recorded;
use super::super::{known, points};
use super::comma::Mark;
use super::context::Context;
use super::header::{self, Header};
use crate::{brief, instant};
use assess::expect::{self, OffStep, Question, impossible};
use quantity::{Celsius, Kind, Typed, Unit, typed, typed_in};
use record::{At, Facing, Instrument, Reading, Source};

/// A line, read and found good.
#[derive(Debug)]
pub(super) struct Row {
    at: At,
    by: String,
    reading: Reading,
    /// The round that the table gives it.
    round: Option<u32>,
    /// What is to be asked where the value lies between the steps of the display.
    off_step: Option<Question>,
    /// Whether the table says that the value really is so.
    said: Said,
}

/// What a table says of a value that would be asked about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Said {
    Nothing,
    Sure,
    /// It was asked about when it was first recorded.
    Before,
}

/// A reading of a table, with when, by whom, and what is to be asked about it by itself.
#[derive(Debug)]
pub(super) struct Line {
    pub(super) at: At,
    pub(super) by: String,
    pub(super) reading: Reading,
    pub(super) off_step: Option<Question>,
    pub(super) said: Said,
}

impl Row {
    /// Reads a line.
    ///
    /// # Errors
    /// In words, what is wrong with it.
    pub(super) fn read(
        record: &csv::StringRecord,
        header: &Header,
        context: &Context<'_>,
        mark: &mut Mark,
    ) -> Result<Self, String> {
        let cell = |column: Option<usize>| column.and_then(|c| header::cell(record, c));
        let point = cell(Some(header.point)).ok_or("the point is missing")?;
        let (point, quantity) = points::resolve(context.plan, point).map_err(|e| e.to_string())?;
        let instrument =
            known::pick(context.known, quantity, cell(header.instrument).or(context.defaults.instrument))
                .map_err(|e| e.to_string())?;
        let divisions = instrument.is_some_and(Instrument::shows_divisions);
        let dialled = match (divisions, header.value.and_then(|c| cell(Some(c)))) {
            (true, None) => {
                return Err("its instrument shows divisions: give them in a column without a unit".to_owned());
            }
            (true, Some(text)) if header.unit.and_then(|c| cell(Some(c))).is_none() => {
                let text = mark.read(text, context.delimiter)?;
                known::dialled(context.plan, &point, instrument, &text, cell(header.read_to))
                    .map_err(|why| why.to_string())?
                    .map(|found| (text, found))
            }
            (true, Some(_)) => return Err("its instrument shows divisions, which have no unit".to_owned()),
            (false, _) => None,
        };
        let facing = cell(header.facing).map(facing_named).transpose()?;
        let facing = facing.or(context.defaults.facing.filter(|_| point.kind().reverses()));
        let (text, value, resolution, off_step, dial) = match dialled {
            Some((text, d)) => (text, d.force, d.resolution, d.off_step, Some(d.dial)),
            None => {
                let bare = Bare {
                    unit: Instrument::bare_unit_of(instrument, quantity, context.plan.units),
                    planned: instrument.is_none(),
                };
                let (text, value) =
                    value(record, header, quantity, bare, &mut |t| mark.read(t, context.delimiter))?;
                let read_to = match cell(header.read_to) {
                    Some(text) => Some(read(&mark.read(text, context.delimiter)?, quantity, bare)?),
                    None => None,
                };
                let (resolution, off_step) =
                    expect::resolution(&value, instrument, read_to.map(|step| step.amount.base()));
                (text, value.amount.base(), resolution, off_step, None)
            }
        };
        let in_its_unit = instrument.filter(|_| dial.is_none());
        if let Some(why) = impossible(quantity, value, resolution, in_its_unit) {
            return Err(why.to_string());
        }
        let temperature = match header.temperature {
            Some((column, unit)) => match cell(Some(column)) {
                Some(text) => {
                    Some(typed_in(&mark.read(text, context.delimiter)?, unit).map_err(|e| e.to_string())?)
                }
                None => None,
            },
            None => None,
        };
        Ok(Self {
            at: cell(header.at).map_or(Ok(context.now), instant)?,
            by: cell(header.by).unwrap_or(context.by).to_owned(),
            reading: Reading {
                quantity,
                text,
                value,
                resolution,
                dial,
                facing: points::facing(&point, facing).map_err(|e| e.to_string())?,
                point,
                instrument: instrument.map(|i| i.name.clone()),
                temperature: temperature.map(|t| Celsius::new(t.amount.base())),
                round: 0,
                scatter: None,
                samples: None,
                unsettled: false,
                source: Source::Imported,
                note: cell(header.note).map(str::to_owned),
                asked: None,
            },
            round: cell(header.round).map(round_number).transpose()?,
            off_step: off_step.map(|OffStep(question)| question),
            said: if cell(header.sure).map_or(Ok(false), yes)? { Said::Sure } else { Said::Nothing },
        })
    }

    /// A reading as it was exported. Its rounds follow those of the log.
    pub(super) fn whole(at: At, by: String, reading: Reading, context: &Context<'_>) -> Result<Self, String> {
        if let Some(name) = reading.instrument.as_deref().filter(|name| !context.known.contains_key(*name)) {
            return Err(known::unknown(context.known, name).to_string());
        }
        let instrument = reading.instrument.as_ref().and_then(|name| context.known.get(name));
        let in_its_unit = instrument.filter(|_| reading.dial.is_none());
        if let Some(why) = impossible(reading.quantity, reading.value, reading.resolution, in_its_unit) {
            return Err(why.to_string());
        }
        let round = Some(context.last_round.saturating_add(reading.round.max(1)));
        Ok(Self { at, by, reading, round, off_step: None, said: Said::Before })
    }

    /// The reading, its round settled.
    pub(super) fn line(self, rounds: &Rounds) -> Line {
        let mut reading = self.reading;
        let next = || rounds.next(reading.instrument.as_deref(), self.at);
        reading.round = self.round.unwrap_or_else(next);
        Line { at: self.at, by: self.by, reading, off_step: self.off_step, said: self.said }
    }
}

/// The unit of a bare number, and whether only the plan names it.
#[derive(Clone, Copy)]
struct Bare {
    unit: Option<Unit>,
    planned: bool,
}

/// The value and its text: from the column without a unit, or from the one that has the line's value.
fn value(
    record: &csv::StringRecord,
    header: &Header,
    quantity: Kind,
    bare: Bare,
    decimal: &mut dyn FnMut(&str) -> Result<String, String>,
) -> Result<(String, Typed), String> {
    let filled = |column: usize| header::cell(record, column);
    let plain = header.value.and_then(filled);
    let mut with_unit =
        header.values.iter().filter_map(|&(column, unit)| filled(column).map(|text| (text, unit)));
    let said = |text: &str, why: &dyn std::fmt::Display| format!("`{}`: {why}", brief(text));
    match (plain, with_unit.next(), with_unit.next()) {
        (None, None, _) => Err("the value is missing".to_owned()),
        (Some(text), None, None) => {
            let unit = header.unit.and_then(filled).unwrap_or_default();
            let text = format!("{} {unit}", decimal(text)?).trim().to_owned();
            let value = read(&text, quantity, bare)?;
            Ok((as_recorded(&text, bare.unit.filter(|_| bare.planned)), value))
        }
        (None, Some((text, unit)), None) => {
            if unit.kind() != quantity {
                return Err(format!("a {} is in the column of a {}", quantity.word(), unit.kind().word()));
            }
            let text = decimal(text)?;
            let value = typed_in(&text, unit).map_err(|why| said(&text, &why))?;
            Ok((text, value))
        }
        _ => Err("more than one value".to_owned()),
    }
}

/// A typed value; a bare number is in the unit it has when it is typed.
fn read(text: &str, quantity: Kind, bare: Bare) -> Result<Typed, String> {
    let value = bare.unit.map_or_else(|| typed(text, quantity), |unit| typed_in(text, unit));
    value.map_err(|why| format!("`{}`: {why}", brief(text)))
}

fn yes(text: &str) -> Result<bool, String> {
    match text.to_lowercase().as_str() {
        "yes" | "y" | "true" | "1" => Ok(true),
        "no" | "n" | "false" | "0" => Ok(false),
        other => Err(format!("sure `{}` is neither `yes` nor `no`", brief(other))),
    }
}

fn facing_named(text: &str) -> Result<Facing, String> {
    match text.to_lowercase().as_str() {
        "forward" | "fwd" | "f" | "outboard" => Ok(Facing::Forward),
        "aft" | "a" | "inboard" => Ok(Facing::Aft),
        other => Err(format!("facing `{}` is neither `forward` nor `aft`", brief(other))),
    }
}

fn round_number(text: &str) -> Result<u32, String> {
    match text.parse() {
        Ok(round) if round > 0 => Ok(round),
        _ => Err(format!("round `{}` is not a whole number from 1", brief(text))),
    }
}
