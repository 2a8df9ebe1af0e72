//! One line of a table of readings.

use super::super::known::{self, Says};
use super::super::points::{self, PlanPoint};
use super::super::rounds::Rounds;
use super::super::take::as_recorded;
use super::super::write::may_be_a_person;
use super::comma::Mark;
use super::context::Context;
use super::fault::LineFault;
use super::header::{self, Header};
use super::sound::sound;
use crate::{SessionError, instant};
use assess::expect::Question;
use bench::Sure;
use quantity::{Celsius, Kind, Typed, TypedError, Unit, typed_in, typed_or_in};
use record::{At, Facing, Instrument, Reading, Source};

/// What an export says of a reading beside the reading itself.
#[derive(Debug)]
pub(super) struct Given {
    pub(super) seq: u64,
    pub(super) at: At,
    pub(super) by: String,
    pub(super) sure: Sure,
}

/// Where the facing of a reading comes from, at a point where the instrument can be turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Faces {
    Said,
    /// Not given: it counts as forward.
    Assumed,
}

/// When an odd value is questioned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Asked {
    Here,
    /// When it was first recorded.
    Before,
}

/// A reading of a table with its time, its writer, and its own question.
#[derive(Debug)]
pub(super) struct Row {
    pub(super) at: At,
    /// Whether the table gives that time; otherwise it is that of the import.
    pub(super) dated: bool,
    pub(super) by: String,
    pub(super) reading: Reading,
    /// The round that the table gives it.
    round: Option<u32>,
    /// The question, if the value is between the steps of the display.
    pub(super) off_step: Option<Question>,
    pub(super) asked: Asked,
    /// Its number in the export it comes from.
    pub(super) exported: Option<u64>,
    pub(super) sure: Sure,
    pub(super) faces: Faces,
}

impl Row {
    /// Reads a line.
    ///
    /// # Errors
    /// What is wrong with it.
    pub(super) fn read(
        record: &csv::StringRecord,
        header: &Header,
        context: &Context<'_>,
        mark: &mut Mark,
    ) -> Result<Self, LineFault> {
        let cell = |column: Option<usize>| column.and_then(|c| header::cell(record, c));
        let point = cell(Some(header.point)).ok_or(LineFault::NoPoint)?;
        let PlanPoint { point, quantity } = points::point_in(context.plan, point)?;
        let instrument = known::pick(
            context.known,
            quantity,
            cell(header.instrument).or(context.defaults.instrument.as_deref()),
        )?;
        let divisions = instrument.is_some_and(Instrument::shows_divisions);
        let dialled = match (divisions, header.value.and_then(|c| cell(Some(c)))) {
            (true, None) => return Err(LineFault::UnitOfDivisions),
            (true, Some(text)) if header.unit.and_then(|c| cell(Some(c))).is_none() => {
                let text = mark.read(text, context.delimiter)?;
                known::dialled(context.plan, &point, instrument, &text, cell(header.read_to))
                    .map_err(SessionError::from)?
                    .map(|found| (text, found))
            }
            (true, Some(_)) => return Err(LineFault::DivisionsWithUnit),
            (false, _) => None,
        };
        let facing = cell(header.facing).map(facing_named).transpose()?;
        let facing = facing.or(context.defaults.facing.filter(|_| point.kind().reverses()));
        let (text, says) = match dialled {
            Some(dialled) => dialled,
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
                let read_to = read_to.map(|step| step.amount.base());
                (text, Says::typed(&value, instrument, read_to))
            }
        };
        if let Some(why) = says.impossible(quantity, instrument) {
            return Err(why.into());
        }
        let Says { value, step, off_step, dial } = says;
        let temperature = header.temperature.and_then(|(column, unit)| Some((cell(Some(column))?, unit)));
        let temperature = match temperature {
            Some((text, unit)) => {
                let text = mark.read(text, context.delimiter)?;
                Some(typed_in(&text, unit).map_err(LineFault::Temperature)?)
            }
            None => None,
        };
        let assumed = facing.is_none() && point.kind().reverses();
        let dated = cell(header.at).map(instant).transpose()?;
        let by = cell(header.by).unwrap_or(context.by);
        may_be_a_person(by).map_err(SessionError::from)?;
        Ok(Self {
            at: dated.unwrap_or(context.now),
            dated: dated.is_some(),
            by: by.to_owned(),
            reading: Reading {
                text,
                dial,
                facing: points::facing(&point, facing)?,
                instrument: instrument.map(|i| i.name.clone()),
                temperature: temperature.map(|t| Celsius::new(t.amount.base())),
                source: Source::Imported,
                note: cell(header.note).map(str::to_owned),
                ..Reading::of(point, quantity, value, step)
            },
            off_step,
            asked: Asked::Here,
            exported: None,
            round: cell(header.round).map(round_number).transpose()?,
            sure: sure(cell(header.sure))?,
            faces: if assumed { Faces::Assumed } else { Faces::Said },
        })
    }

    /// A reading as exported. Its rounds continue those of the log.
    pub(super) fn whole(
        Given { seq, at, by, sure }: Given,
        mut reading: Reading,
        context: &Context<'_>,
    ) -> Result<Self, LineFault> {
        may_be_a_person(&by).map_err(SessionError::from)?;
        let off_step = sound(&reading, context)?;
        if !(1..=MOST_ROUND).contains(&reading.round) {
            return Err(LineFault::Round(reading.round.to_string()));
        }
        // Every export gives the facing; if it was removed, the rule for other tables applies.
        let assumed = reading.facing.is_none() && reading.point.kind().reverses();
        reading.facing = points::facing(&reading.point, reading.facing)?;
        Ok(Self {
            at,
            dated: true,
            by,
            asked: if reading.asked.is_some() { Asked::Before } else { Asked::Here },
            round: Some(context.last_round.saturating_add(reading.round)),
            reading,
            off_step,
            exported: Some(seq),
            sure,
            faces: if assumed { Faces::Assumed } else { Faces::Said },
        })
    }

    /// Gives the reading its round.
    pub(super) fn number(&mut self, rounds: &Rounds) {
        let instrument = self.reading.instrument.as_deref();
        let next = || match self.dated {
            true => rounds.next_of_table(instrument, self.at),
            false => rounds.next(instrument, self.at),
        };
        self.reading.round = self.round.unwrap_or_else(next);
    }
}

/// The unit of a bare number, and whether only the plan gives it.
#[derive(Clone, Copy)]
struct Bare {
    unit: Option<Unit>,
    planned: bool,
}

/// The value and its text: from the column without a unit, or from the one with the line's value.
fn value(
    record: &csv::StringRecord,
    header: &Header,
    quantity: Kind,
    bare: Bare,
    decimal: &mut dyn FnMut(&str) -> Result<String, LineFault>,
) -> Result<(String, Typed), LineFault> {
    let filled = |column: usize| header::cell(record, column);
    let plain = header.value.and_then(filled);
    let mut with_unit =
        header.values.iter().filter_map(|&(column, unit)| filled(column).map(|text| (text, unit)));
    match (plain, with_unit.next(), with_unit.next()) {
        (None, None, _) => Err(LineFault::NoValue),
        (Some(text), None, None) => {
            let unit = header.unit.and_then(filled).unwrap_or_default();
            let text = format!("{} {unit}", decimal(text)?).trim().to_owned();
            let value = read(&text, quantity, bare)?;
            Ok((as_recorded(&text, bare.unit.filter(|_| bare.planned)), value))
        }
        (None, Some((text, unit)), None) => {
            if unit.kind() != quantity {
                return Err(LineFault::OtherColumn { is: quantity, of: unit.kind() });
            }
            let text = decimal(text)?;
            let value = typed_in(&text, unit).map_err(|why| no_value(&text, why))?;
            // The value is shown with the unit of its column's head, unless a bare number has that unit anyway.
            let own = bare.planned || unit != bare.unit.unwrap_or_else(|| quantity.base_unit());
            Ok((as_recorded(&text, own.then_some(unit)), value))
        }
        _ => Err(LineFault::SeveralValues),
    }
}

/// A typed value; a bare number has the same unit as when it is typed.
fn read(text: &str, quantity: Kind, bare: Bare) -> Result<Typed, LineFault> {
    typed_or_in(text, quantity, bare.unit).map_err(|why| no_value(text, why))
}

fn no_value(text: &str, why: TypedError) -> LineFault {
    LineFault::Value { text: text.to_owned(), why }
}

/// From the cell of a column `sure`.
pub(super) fn sure(cell: Option<&str>) -> Result<Sure, LineFault> {
    match cell.map(str::to_lowercase).as_deref() {
        Some("yes" | "y" | "true" | "1") => Ok(Sure::Yes),
        None | Some("no" | "n" | "false" | "0") => Ok(Sure::Unsaid),
        Some(other) => Err(LineFault::neither("sure", other, ["yes", "no"], ["yes", "no"])),
    }
}

pub(super) fn facing_named(text: &str) -> Result<Facing, LineFault> {
    Facing::named(text).ok_or_else(|| LineFault::no_facing(text))
}

/// The highest round that a table may give: after the highest possible number, two walks could no longer be told
/// apart.
const MOST_ROUND: u32 = 1_000_000;

fn round_number(text: &str) -> Result<u32, LineFault> {
    match text.parse() {
        Ok(round) if (1..=MOST_ROUND).contains(&round) => Ok(round),
        _ => Err(LineFault::Round(text.to_owned())),
    }
}
