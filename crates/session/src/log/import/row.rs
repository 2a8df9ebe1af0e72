//! One line of a table of readings.

use super::super::rounds::Rounds;
use super::super::{known, points};
use super::Context;
use super::header::Header;
use crate::{brief, instant};
use assess::expect::{self, OffStep, Question, impossible};
use quantity::{Celsius, Kind, Typed, typed, typed_in};
use record::{At, Facing, Instrument, Point, Reading, Source};

/// A line, read and found good.
#[derive(Debug)]
pub(super) struct Row {
    at: At,
    by: String,
    point: Point,
    quantity: Kind,
    text: String,
    value: f64,
    resolution: f64,
    facing: Option<Facing>,
    instrument: Option<String>,
    temperature: Option<Celsius>,
    round: Option<u32>,
    note: Option<String>,
    /// What is to be asked where the value lies between the steps of the display.
    off_step: Option<Question>,
    /// True where the table says that the value really is so.
    sure: bool,
}

/// A reading of a table, with when, by whom, and what is to be asked about it by itself.
#[derive(Debug)]
pub(super) struct Line {
    pub(super) at: At,
    pub(super) by: String,
    pub(super) reading: Reading,
    pub(super) off_step: Option<Question>,
    pub(super) sure: bool,
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
    ) -> Result<Self, String> {
        let cell = |column: Option<usize>| column.and_then(|c| record.get(c)).filter(|text| !text.is_empty());
        let point = cell(Some(header.point)).ok_or("the point is missing")?;
        let (point, quantity) = points::resolve(context.plan, point).map_err(|e| e.to_string())?;
        let instrument =
            known::pick(context.known, quantity, cell(header.instrument)).map_err(|e| e.to_string())?;
        let (text, value) = value(record, header, quantity, instrument)?;
        let facing = cell(header.facing).map(facing_named).transpose()?;
        let read_to = cell(header.read_to).map(|text| read(text, quantity, instrument)).transpose()?;
        let (resolution, off_step) =
            expect::resolution(&value, instrument, read_to.map(|step| step.amount.base()));
        if let Some(why) = impossible(quantity, value.amount.base(), resolution, instrument) {
            return Err(why.to_string());
        }
        let temperature = match header.temperature {
            Some((column, unit)) => {
                cell(Some(column)).map(|t| typed_in(t, unit)).transpose().map_err(|e| e.to_string())?
            }
            None => None,
        };
        Ok(Self {
            at: cell(header.at).map_or(Ok(context.now), instant)?,
            by: cell(header.by).unwrap_or(context.by).to_owned(),
            quantity,
            text,
            value: value.amount.base(),
            resolution,
            facing: points::facing(&point, facing).map_err(|e| e.to_string())?,
            point,
            instrument: instrument.map(|i| i.name.clone()),
            temperature: temperature.map(|t| Celsius::new(t.amount.base())),
            round: cell(header.round).map(round_number).transpose()?,
            note: cell(header.note).map(str::to_owned),
            off_step: off_step.map(|OffStep(question)| question),
            sure: cell(header.sure).map_or(Ok(false), yes)?,
        })
    }

    /// The reading, its round settled.
    pub(super) fn line(self, rounds: &Rounds) -> Line {
        let round = self.round.unwrap_or_else(|| rounds.next(self.instrument.as_deref(), self.at, false));
        let reading = Reading {
            point: self.point,
            text: self.text,
            quantity: self.quantity,
            value: self.value,
            resolution: self.resolution,
            facing: self.facing,
            instrument: self.instrument,
            temperature: self.temperature,
            round,
            scatter: None,
            samples: None,
            unsettled: false,
            source: Source::Imported,
            note: self.note,
            asked: None,
        };
        Line { at: self.at, by: self.by, reading, off_step: self.off_step, sure: self.sure }
    }
}

/// The value and its text: from the column without a unit, or from the one that has the line's value.
fn value(
    record: &csv::StringRecord,
    header: &Header,
    quantity: Kind,
    instrument: Option<&Instrument>,
) -> Result<(String, Typed), String> {
    let filled = |column: usize| record.get(column).filter(|text| !text.is_empty());
    let plain = header.value.and_then(filled);
    let mut with_unit =
        header.values.iter().filter_map(|&(column, unit)| filled(column).map(|text| (text, unit)));
    let said = |text: &str, why: &dyn std::fmt::Display| format!("`{}`: {why}", brief(text));
    match (plain, with_unit.next(), with_unit.next()) {
        (None, None, _) => Err("the value is missing".to_owned()),
        (Some(text), None, None) => {
            let unit = header.unit.and_then(filled).unwrap_or_default();
            let text = format!("{text} {unit}").trim().to_owned();
            let value = read(&text, quantity, instrument)?;
            Ok((text, value))
        }
        (None, Some((text, unit)), None) => {
            if unit.kind() != quantity {
                return Err(format!("a {} is in the column of a {}", quantity.word(), unit.kind().word()));
            }
            let value = typed_in(text, unit).map_err(|why| said(text, &why))?;
            Ok((text.to_owned(), value))
        }
        _ => Err("more than one value".to_owned()),
    }
}

/// A typed value; a bare number is in the unit the instrument shows.
fn read(text: &str, quantity: Kind, instrument: Option<&Instrument>) -> Result<Typed, String> {
    let bare = instrument.and_then(|i| i.bare_unit(quantity));
    let value = bare.map_or_else(|| typed(text, quantity), |unit| typed_in(text, unit));
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
    match text {
        "forward" => Ok(Facing::Forward),
        "aft" => Ok(Facing::Aft),
        other => Err(format!("facing `{}` is neither `forward` nor `aft`", brief(other))),
    }
}

fn round_number(text: &str) -> Result<u32, String> {
    match text.parse() {
        Ok(round) if round > 0 => Ok(round),
        _ => Err(format!("round `{}` is not a whole number from 1", brief(text))),
    }
}
