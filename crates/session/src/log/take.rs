//! Taking a reading.

use super::rounds::Rounds;
use super::{Session, known, points};
use crate::{SessionError, brief, shown};
use quantity::{Amount, Celsius, Kind, typed};
use record::{Entry, Facing, Instrument, Plan, Point, Reading, Source, What};
use std::collections::BTreeMap;

/// A reading as a person typed it.
#[derive(Clone, Debug, Default)]
pub struct Take {
    /// The point (`incidence@S4`).
    pub point: String,
    /// The value as typed (`0.35`, `-21'30"`, `6.1 mm/m`).
    pub text: String,
    /// Which way the instrument faced; forward if none is given and the point's kind reverses.
    pub facing: Option<Facing>,
    /// The instrument; where one alone is known for the quantity, that one.
    pub instrument: Option<String>,
    /// Temperature of the part as typed (`21`, `70 °F`).
    pub temperature: Option<String>,
    /// Who took it; the session's person if none is given.
    pub by: Option<String>,
    /// True to begin a new round.
    pub new_round: bool,
    /// A remark.
    pub note: Option<String>,
}

/// A value that came from a port.
#[derive(Clone, Debug)]
pub struct TakeSettled {
    /// The point.
    pub point: Point,
    /// The mean of the samples, as displayed (the facing's sign not applied).
    pub amount: Amount,
    /// Standard deviation of the samples, in the unit used inside.
    pub scatter: f64,
    /// How many samples were averaged.
    pub samples: u32,
    /// Step of the instrument's display, in the unit used inside.
    pub resolution: f64,
    /// True if it had not settled when it was taken.
    pub unsettled: bool,
    /// Which way the instrument faced.
    pub facing: Option<Facing>,
    /// The instrument's name.
    pub instrument: Option<String>,
    /// Temperature of the part, in °C.
    pub temperature: Option<Celsius>,
    /// True to begin a new round.
    pub new_round: bool,
}

/// What was written, once it is on disk.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// The entry.
    pub entry: Entry,
    /// One line for the person.
    pub ack: String,
}

impl Session {
    /// Takes a typed reading. It is on disk when this returns.
    ///
    /// # Errors
    /// When the point is not in the plan, the value cannot be read or is of another quantity, the instrument is not
    /// known or must be named, or the log cannot be written.
    pub fn take(&mut self, take: Take) -> Result<Taken, SessionError> {
        let known = self.instruments();
        let (mut reading, hint) = from_typed(&self.plan, &known, &take)?;
        reading.round = self.round(reading.instrument.as_deref(), take.new_round);
        self.write_reading(take.by.as_deref(), reading, hint)
    }

    /// Takes a value that came from a port. It is on disk when this returns.
    ///
    /// # Errors
    /// As for [`Session::take`].
    pub fn take_settled(&mut self, take: TakeSettled) -> Result<Taken, SessionError> {
        let (point, quantity) = points::resolve(&self.plan, &take.point.to_string())?;
        if take.amount.kind() != quantity {
            return Err(SessionError::Refused(format!(
                "readings of `{point}` are {}s and the instrument sent {}s",
                quantity.word(),
                take.amount.kind().word()
            )));
        }
        let value = take.amount.base();
        if !value.is_finite() || !take.scatter.is_finite() || take.scatter < 0.0 {
            return Err(SessionError::refused("the instrument's value is not a finite number"));
        }
        let known = self.instruments();
        let instrument = known::pick(&known, quantity, take.instrument.as_deref())?;
        let reading = Reading {
            facing: points::facing(&point, take.facing)?,
            point,
            text: take.amount.to_string(),
            quantity,
            value,
            resolution: coarser(take.resolution, instrument),
            round: self.round(instrument.map(|i| i.name.as_str()), take.new_round),
            instrument: instrument.map(|i| i.name.clone()),
            temperature: take.temperature,
            scatter: Some(take.scatter),
            samples: Some(take.samples),
            unsettled: take.unsettled,
            source: Source::Port,
            note: None,
            asked: None,
        };
        self.write_reading(None, reading, None)
    }

    fn round(&self, instrument: Option<&str>, asked_new: bool) -> u32 {
        Rounds::of(&self.entries).next(instrument, self.clock.now(), asked_new)
    }

    fn write_reading(
        &mut self,
        by: Option<&str>,
        reading: Reading,
        hint: Option<String>,
    ) -> Result<Taken, SessionError> {
        let pair = other_of_pair(&self.entries, &reading);
        let what = What::Reading(reading);
        let entry = self.append(by, &what)?;
        let What::Reading(reading) = &entry.what else {
            return Err(SessionError::refused("the reading was written and read back as something else"));
        };
        let ack = acknowledgement(entry.seq, reading, pair, hint);
        Ok(Taken { ack, entry })
    }
}

/// The reading a person typed, its round still to be settled, and a word to them about it.
pub(super) fn from_typed(
    plan: &Plan,
    known: &BTreeMap<String, Instrument>,
    take: &Take,
) -> Result<(Reading, Option<String>), SessionError> {
    let (point, quantity) = points::resolve(plan, &take.point)?;
    let value = typed(&take.text, quantity).map_err(|why| unreadable(&take.text, &why))?;
    let instrument = known::pick(known, quantity, take.instrument.as_deref())?;
    let reading = Reading {
        facing: points::facing(&point, take.facing)?,
        point,
        text: take.text.trim().to_owned(),
        quantity,
        value: value.amount.base(),
        resolution: coarser(value.resolution, instrument),
        round: 0,
        instrument: instrument.map(|i| i.name.clone()),
        temperature: take.temperature.as_deref().map(part_temperature).transpose()?,
        scatter: None,
        samples: None,
        unsettled: false,
        source: Source::Typed,
        note: take.note.as_deref().map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned),
        asked: None,
    };
    Ok((reading, coarseness(value.resolution, instrument, quantity)))
}

/// The last reading of the same point and round that faced the other way and was not withdrawn.
pub(super) fn other_of_pair<'a, I>(entries: I, reading: &Reading) -> Option<u64>
where
    I: IntoIterator<Item = &'a Entry, IntoIter: DoubleEndedIterator + Clone>,
{
    let turned = reading.facing?.turned();
    let entries = entries.into_iter();
    let withdrawn =
        |seq| entries.clone().any(|e| matches!(e.what, What::Withdrawn { seq: s, .. } if s == seq));
    entries.clone().rev().find_map(|e| match &e.what {
        What::Reading(r)
            if r.point == reading.point
                && r.round == reading.round
                && r.facing == Some(turned)
                && !withdrawn(e.seq) =>
        {
            Some(e.seq)
        }
        _ => None,
    })
}

/// The step a reading counts with: the coarser of what was typed and what the instrument shows.
pub(super) fn coarser(typed: f64, instrument: Option<&Instrument>) -> f64 {
    instrument.map_or(typed, |i| step_of(typed, i))
}

/// The same where the instrument is known.
pub(crate) fn step_of(typed: f64, instrument: &Instrument) -> f64 {
    instrument.resolution.max(typed)
}

/// The temperature of a part, as typed.
///
/// # Errors
/// When it cannot be read as one.
pub fn part_temperature(text: &str) -> Result<Celsius, SessionError> {
    let value = typed(text, Kind::Temperature).map_err(|why| unreadable(text, &why))?;
    Ok(Celsius::new(value.amount.base()))
}

/// The text with a mark under the place where it went wrong.
fn unreadable(text: &str, why: &quantity::TypedError) -> SessionError {
    if text.len() > quantity::typed::MAX_BYTES {
        return SessionError::Refused(format!("{why}\n  {}", brief(text)));
    }
    let before = text.get(..why.at).map_or(0, |b| shown(b).chars().count());
    SessionError::Refused(format!("{why}\n  {}\n  {:before$}^", shown(text), ""))
}

/// A word to the person whose typing was coarser than the display.
fn coarseness(typed: f64, instrument: Option<&Instrument>, quantity: Kind) -> Option<String> {
    let instrument = instrument?;
    // A hair of slack: steps such as 0.1 come through a conversion.
    (typed > instrument.resolution * (1.0 + 1e-9)).then(|| {
        let unit = quantity.base_symbol();
        format!(
            "counted as read to {} {unit}, though the instrument shows {} {unit}; type every digit it shows",
            short(typed),
            short(instrument.resolution)
        )
    })
}

/// A step in few digits.
fn short(step: f64) -> String {
    let text = format!("{step:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

pub(super) fn acknowledgement(
    seq: u64,
    reading: &Reading,
    pair: Option<u64>,
    hint: Option<String>,
) -> String {
    let mut ack = format!("{seq}: {} = {}", shown(&reading.point.to_string()), shown(&reading.text));
    if let Some(facing) = reading.facing {
        ack.push_str(&format!(", facing {}", facing.word()));
    }
    match &reading.instrument {
        Some(name) => ack.push_str(&format!(", {}, round {}", shown(name), reading.round)),
        None => ack.push_str(&format!(
            ", round {}; no instrument is known for it, so only the typed resolution is counted",
            reading.round
        )),
    }
    if let Some(other) = pair {
        ack.push_str(&format!("; a reversal pair with {other}"));
    }
    if let Some(hint) = hint {
        ack.push_str(&format!("\n  {hint}"));
    }
    ack
}
