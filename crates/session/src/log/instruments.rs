//! Instruments entered into the log, and their checks.

use super::{Session, Taken, known};
use crate::refusal::Refusal;
use crate::{SessionError, shown};
use record::plan::claims;
use record::{Entry, Instrument, InstrumentCheck, What};

impl Session {
    /// Enters an instrument, or enters it again with other data; with the same data nothing is written.
    ///
    /// # Errors
    /// If its numbers are unusable or the log cannot be written.
    pub fn add_instrument(&mut self, instrument: Instrument) -> Result<Taken, SessionError> {
        known::usable(&instrument)?;
        let mut others = self.instruments();
        let known = others.remove(&instrument.name);
        if let (Some(was), Some(now)) = (known.as_ref().and_then(|k| k.number.clone()), &instrument.number)
            && was != *now
        {
            let (name, now) = (instrument.name.clone(), now.clone());
            return Err(Refusal::OtherNumber { name, was, now }.into());
        }
        let name = shown(&instrument.name).into_owned();
        let says_so = |e: &&Entry| match &e.what {
            What::Instrument(entered) => *entered == instrument,
            What::Started { .. } => true,
            _ => false,
        };
        if known.as_ref() == Some(&instrument)
            && let Some(entry) = self.entries.iter().rev().find(says_so)
        {
            let ack = format!("instrument `{name}` is in the log already, with the same data");
            return Ok(Taken::new(entry.clone(), ack));
        }
        let did = if known.is_some() {
            "is entered again; readings from now on are judged by these data"
        } else {
            "is entered"
        };
        let mut ack = format!("instrument `{name}` {did}");
        for claim in known.iter().flat_map(|known| claims(known, &instrument)) {
            let item = claim.open_item();
            ack.push_str(&format!(
                "\n  {}: new readings with it hold the gate until that is carried past with a reason",
                shown(&item)
            ));
        }
        let number = |i: &&Instrument| {
            i.kind == instrument.kind && i.number.is_some() && i.number == instrument.number
        };
        if let Some(same) = others.values().find(number) {
            let same = shown(&same.name);
            ack.push_str(&format!(
                "\n  It has the number of `{same}`: a failed check of one counts for both"
            ));
        }
        if instrument.checked.as_ref().is_some_and(|checked| *checked > self.clock.now().date()) {
            ack.push_str("\n  Its check is dated in the future; check the date");
        }
        let entry = self.append(None, &What::Instrument(instrument))?;
        Ok(Taken::new(entry, ack))
    }

    /// Records a check of an instrument.
    ///
    /// # Errors
    /// If the instrument is unknown or the log cannot be written.
    pub fn instrument_check(&mut self, check: InstrumentCheck) -> Result<Taken, SessionError> {
        let known = self.instruments();
        if !known.contains_key(&check.instrument) {
            return Err(known::unknown(&known, &check.instrument));
        }
        let passed = if check.passed { "passes" } else { "does not pass" };
        let ack = format!("`{}` {passed} the {} check", shown(&check.instrument), shown(&check.method));
        let entry = self.append(None, &What::InstrumentCheck(check))?;
        Ok(Taken::new(entry, ack))
    }
}
