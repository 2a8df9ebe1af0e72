//! What a round of typed values needs from the log: the instrument, the expected value of a place, retyping a value,
//! a pair.

use super::ask::{Asking, answered};
use super::take::Taken;
use super::{Session, Take};
use crate::SessionError;
use assess::expect::Say;
use journal::NewEntry;
use quantity::Kind;
use record::{Entry, Facing, Instrument, Point, Reading, What, Withdrawn};

impl Session {
    /// The instruments that can read a quantity, by name.
    pub fn instruments_for(&self, quantity: Kind) -> Vec<Instrument> {
        self.instruments().into_values().filter(|i| i.kind.quantity() == Some(quantity)).collect()
    }

    /// The instrument of the last reading of this kind of point.
    pub fn instrument_last_used(&self, point: &Point, quantity: Kind) -> Option<Instrument> {
        let alike = |r: &&Reading| r.point.kind() == point.kind() && r.quantity == quantity;
        let readings = Withdrawn::others(&self.entries).rev().filter_map(|e| e.what.reading());
        let name = readings.filter(alike).find_map(|r| r.instrument.as_ref())?;
        self.instruments().remove(name)
    }

    /// What the instrument should show at a place, rounded to two steps of its display (`about +2.2°`); `None` if the
    /// plan and the round do not say.
    pub fn expected(
        &self,
        point: &Point,
        facing: Option<Facing>,
        instrument: Option<&Instrument>,
    ) -> Option<String> {
        let quantity = self.plan.quantity_of(point)?;
        let round = self.round(instrument.map(|i| i.name.as_str()));
        let asking = Asking::of(&self.plan, self.under_way().iter());
        let shows = asking.shows(point, facing, instrument, round)?;
        Some(Say::of(quantity, instrument, self.plan.units).about(shows.value))
    }

    /// The error for an instrument that the log does not know. The nearest is suggested.
    pub fn instrument_unknown(&self, name: &str) -> SessionError {
        super::known::unknown(&self.instruments(), name.trim())
    }

    /// Records a typed reading in place of an entry, which is withdrawn with the reason in the same transaction.
    ///
    /// # Errors
    /// As for [`Session::take`] and [`Session::withdraw`]; then nothing changes.
    pub fn retake(&mut self, seq: u64, take: &Take, reason: &str) -> Result<Taken, SessionError> {
        self.refresh()?;
        self.withdrawable(seq)?;
        let (mut reading, question) = self.draft_without(take, seq)?;
        reading.asked = answered(question, take.sure)?;
        let by = self.person(take.by.as_deref())?;
        let when = self.clock.when();
        if let Some(What::Reading(before)) = Entry::find(&self.entries, seq).map(|e| &e.what)
            && self.rounds().going(before.instrument.as_deref(), when.at) == Some(before.round)
            && before.instrument == reading.instrument
        {
            reading.round = before.round;
        }
        let gone = What::Withdrawn { seq, reason: reason.to_owned() };
        let both = [gone, What::Reading(reading)]
            .map(|what| Ok::<_, SessionError>(NewEntry::new(when, by.clone(), what)));
        let head = self.journal.append_many(both)?;
        let entry = self.read_back(head.seq)?;
        self.told(entry)
    }
}
