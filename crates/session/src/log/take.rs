//! Records readings.

use super::Session;
use super::ask::{Asking, answered};
use super::known::{self, Says};
use super::pair::Pair;
use super::points::{self, PlanPoint};
use super::rounds::{self, Rounds};
use super::standing::{other_half, standing};
use crate::refusal::Refusal;
use crate::{SessionError, shown};
use assess::expect::{self, Question, impossible};
use bench::{NewReading, Rested, Round, Sure};
use quantity::{Celsius, Kind, Unit, Units, typed_or_in};
use record::{Entry, Facing, Instrument, Plan, Reading, Source, What};
use std::collections::BTreeMap;

#[derive(Clone, Debug, Default)]
pub struct Take {
    /// The point (`incidence@S4`).
    pub point: String,
    /// The value as typed (`0.35`, `-21'30"`, `6.1 mm/m`).
    pub text: String,
    /// The instrument's facing; if not given, forward at points that reverse.
    pub facing: Option<Facing>,
    /// The instrument; if only one is known for the quantity, that one.
    pub instrument: Option<String>,
    /// Temperature of the part as typed (`21`, `70 °F`).
    pub temperature: Option<String>,
    /// Who took it; the session's person if none is given.
    pub by: Option<String>,
    pub new_round: bool,
    pub note: Option<String>,
    /// A coarser step than the instrument's, as typed, if it was read less finely.
    pub read_to: Option<String>,
    pub sure: Sure,
}

/// What was written, once it is on disk.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    pub entry: Entry,
    pub ack: String,
    /// The combined result, if it completes a reversal pair.
    pub pair: Option<Pair>,
    /// For a reading: the value as typed, with its unit.
    pub value: Option<String>,
}

impl Taken {
    pub(crate) const fn new(entry: Entry, ack: String) -> Self {
        Self { entry, ack, pair: None, value: None }
    }
}

impl Session {
    /// Records a typed reading. It is on disk when this returns.
    ///
    /// # Errors
    /// If the point is not in the plan, the value cannot be read or has another quantity, the instrument is unknown
    /// or must be named, or the log cannot be written. [`SessionError::Asks`] if the value must be confirmed, and
    /// [`SessionError::NothingAsked`] if it was confirmed without a question.
    pub fn take(&mut self, take: Take) -> Result<Taken, SessionError> {
        self.refresh()?;
        let (mut reading, question) = self.draft_without(&take, 0)?;
        reading.asked = answered(question, take.sure)?;
        self.write_reading(take.by.as_deref(), reading)
    }

    /// The reading, and its question, as if the entry with that number did not count.
    pub(super) fn draft_without(
        &self,
        take: &Take,
        seq: u64,
    ) -> Result<(Reading, Option<Question>), SessionError> {
        let known = self.instruments();
        let Draft { mut reading, off_step } = from_typed(&self.plan, &known, take)?;
        reading.round = self.round_of(reading.instrument.as_deref(), take.new_round);
        let question = self.asked_of(&reading, &known, seq).or(off_step);
        Ok((reading, question))
    }

    /// The question about a reading, as if the entry with that number did not count.
    fn asked_of(
        &self,
        reading: &Reading,
        known: &BTreeMap<String, Instrument>,
        seq: u64,
    ) -> Option<Question> {
        let instrument = reading.instrument.as_ref().and_then(|name| known.get(name));
        let entries = self.under_way().iter().filter(|e| e.seq != seq);
        Asking::of(&self.plan, entries).question(reading, instrument)
    }

    /// Records a value from a port. It is on disk when this returns.
    ///
    /// # Errors
    /// As for [`Session::take`].
    pub fn take_settled(&mut self, new: &NewReading) -> Result<Taken, SessionError> {
        self.refresh()?;
        let reading = self.settled(new)?;
        self.write_reading(None, reading)
    }

    /// The same without writing anything: whether it would be recorded.
    ///
    /// # Errors
    /// As for [`Session::take_settled`].
    pub fn would_take(&self, new: &NewReading) -> Result<(), SessionError> {
        self.settled(new).map(|_| ())
    }

    /// The reading for a settled value, once no question remains.
    fn settled(&self, new: &NewReading) -> Result<Reading, SessionError> {
        let PlanPoint { point, quantity } = points::point_in(&self.plan, &new.point.to_string())?;
        if new.quantity != quantity {
            return Err(Refusal::OtherQuantity { point, asks: quantity, sent: new.quantity }.into());
        }
        if !quantity::possible(quantity, new.scatter) || new.scatter < 0.0 {
            return Err(Refusal::Scatter.into());
        }
        let known = self.instruments();
        let instrument = known::pick(&known, quantity, Some(&new.instrument.name))?;
        if let Some(instrument) = instrument.filter(|i| i.shows_divisions()) {
            return Err(Refusal::ShowsDivisions(instrument.name.clone()).into());
        }
        let resolution = instrument.map_or(new.resolution, |i| i.resolution.max(new.resolution));
        if let Some(why) = impossible(quantity, new.value, resolution, instrument) {
            return Err(why.into());
        }
        let mut reading = Reading {
            facing: points::facing(&point, new.facing)?,
            text: new.text.clone(),
            round: self.round_of(instrument.map(|i| i.name.as_str()), new.round == Round::Begins),
            instrument: instrument.map(|i| i.name.clone()),
            temperature: new.temperature,
            scatter: Some(new.scatter),
            samples: Some(new.samples),
            unsettled: new.rest == Rested::Unsettled,
            source: Source::Port,
            ..Reading::of(point, quantity, new.value, resolution)
        };
        let question = self.asked_of(&reading, &known, 0);
        // At a port, a key confirms before anybody knows whether there is a question.
        let sure = Sure::from(question.is_some() && new.asked.is_some());
        reading.asked = answered(question, sure)?;
        Ok(reading)
    }

    /// The number of the round that the next reading with an instrument belongs to.
    pub fn round(&self, instrument: Option<&str>) -> u32 {
        self.rounds().next(instrument, self.clock.now())
    }

    fn round_of(&self, instrument: Option<&str>, new: bool) -> u32 {
        if new { self.rounds().new_round() } else { self.round(instrument) }
    }

    pub(super) fn rounds(&self) -> Rounds {
        let readings = self.entries.iter().filter_map(|e| e.what.reading());
        let last = readings.map(|r| r.round).max().unwrap_or(0).max(self.highest_round);
        Rounds::of(self.under_way(), last)
    }

    /// The entries of the work in progress.
    pub(super) fn under_way(&self) -> &[Entry] {
        rounds::under_way(&self.plan, &self.entries)
    }

    fn write_reading(&mut self, by: Option<&str>, reading: Reading) -> Result<Taken, SessionError> {
        let entry = self.append(by, &What::Reading(reading))?;
        self.told(entry)
    }

    /// The answer about a reading that was written.
    pub(super) fn told(&self, entry: Entry) -> Result<Taken, SessionError> {
        let reading = entry.what.reading().ok_or(Refusal::OtherEntry)?;
        let pair = other_half(&standing(&self.plan, self.under_way()), reading).cloned();
        let known = self.instruments();
        let instrument = reading.instrument.as_ref().and_then(|name| known.get(name));
        told(&self.plan, entry, pair, instrument)
    }
}

/// The answer about a reading that was written; `other` is its counterpart in the pair.
pub(super) fn told(
    plan: &Plan,
    entry: Entry,
    other: Option<Entry>,
    instrument: Option<&Instrument>,
) -> Result<Taken, SessionError> {
    let reading = entry.what.reading().ok_or(Refusal::OtherEntry)?;
    let value = with_unit(plan, reading, instrument);
    let ack = acknowledgement(entry.seq, reading, &value, other.as_ref());
    let pair = other.and_then(|other| Pair::of(reading, &other, instrument));
    Ok(Taken { ack, entry, pair, value: Some(value) })
}

/// A typed reading without its round.
pub(super) struct Draft {
    pub(super) reading: Reading,
    /// The question, if it is between the steps of the display.
    pub(super) off_step: Option<Question>,
}

pub(super) fn from_typed(
    plan: &Plan,
    known: &BTreeMap<String, Instrument>,
    take: &Take,
) -> Result<Draft, SessionError> {
    let PlanPoint { point, quantity } = points::point_in(plan, &take.point)?;
    let instrument = known::pick(known, quantity, take.instrument.as_deref())?;
    let bare = Instrument::bare_unit_of(instrument, quantity, plan.units);
    let read = |text: &str| {
        typed_or_in(text, quantity, bare).map_err(|source| Refusal::Typed { text: text.to_owned(), source })
    };
    let says = match known::dialled(plan, &point, instrument, &take.text, take.read_to.as_deref())? {
        Some(dialled) => dialled,
        None => {
            let value = read(&take.text)?;
            let read_to = take.read_to.as_deref().map(read).transpose()?.map(|step| step.amount.base());
            Says::typed(&value, instrument, read_to)
        }
    };
    if let Some(why) = says.impossible(quantity, instrument) {
        return Err(why.into());
    }
    let Says { value, step, off_step, dial } = says;
    let reading = Reading {
        facing: points::facing(&point, take.facing)?,
        text: as_recorded(&take.text, instrument.is_none().then_some(bare).flatten()),
        dial,
        round: 0,
        instrument: instrument.map(|i| i.name.clone()),
        temperature: take
            .temperature
            .as_deref()
            .map(|text| part_temperature(text, plan.units))
            .transpose()?,
        note: take.note.as_deref().map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned),
        ..Reading::of(point, quantity, value, step)
    };
    Ok(Draft { reading, off_step })
}

/// The text as typed; if only the plan gives the unit of a bare number, the unit is appended, so that a later plan
/// cannot change its meaning.
pub(super) fn as_recorded(text: &str, bare: Option<Unit>) -> String {
    let text = text.trim();
    match bare {
        Some(unit) if text.ends_with(|c: char| c.is_ascii_digit() || c == '.') => {
            format!("{text} {}", unit.symbol())
        }
        _ => text.to_owned(),
    }
}

/// The temperature of a part, as typed; a bare number is in the unit that people work in.
///
/// # Errors
/// If it cannot be read as a temperature.
pub fn part_temperature(text: &str, units: Units) -> Result<Celsius, SessionError> {
    let value = typed_or_in(text, Kind::Temperature, units.bare(Kind::Temperature))
        .map_err(|source| Refusal::Typed { text: text.to_owned(), source })?;
    Ok(Celsius::new(value.amount.base()))
}

/// The value as typed, with its unit; a dial reading has none.
fn with_unit(plan: &Plan, reading: &Reading, instrument: Option<&Instrument>) -> String {
    if reading.dial.is_some() {
        return reading.text.clone();
    }
    expect::Say::of(reading.quantity, instrument, plan.units).typed(&reading.text, reading.value)
}

fn acknowledgement(seq: u64, reading: &Reading, value: &str, pair: Option<&Entry>) -> String {
    let mut ack = format!("{seq}: {} = {}", shown(&reading.point.to_string()), shown(value));
    if reading.dial.is_some() {
        let force = quantity::shown::with_unit(
            &quantity::shown::fixed(reading.value, 1),
            reading.quantity.base_symbol(),
        );
        ack.push_str(&format!(" on the dial, {force}"));
    }
    if let Some(facing) = reading.facing {
        ack.push_str(&format!(", facing {}", facing.word()));
    }
    match &reading.instrument {
        Some(name) => ack.push_str(&format!(", {}, round {}", shown(name), reading.round)),
        None => ack.push_str(&format!(
            ", round {}; no instrument is known for it, so only the typed resolution counts",
            reading.round
        )),
    }
    if let Some(other) = pair {
        ack.push_str(&format!("; a reversal pair with {}", other.seq));
    }
    if let Some(asked) = &reading.asked {
        ack.push_str(&format!("; kept on purpose, where {} was expected", shown(&asked.expected)));
    }
    ack
}
