//! Writes typed readings into a log without reading all of it.

use super::ask::{Asking, answered};
use super::open::logged_plan;
use super::rounds::{Rounds, reach};
use super::standing::{other_half, standing};
use super::take::{Draft, from_typed, told};
use super::write::named;
use super::{Take, Taken, known};
use crate::SessionError;
use crate::clock::Clock;
use crate::refusal::Refusal;
use journal::Journal;
use record::{Entry, Instrument, Plan, What};
use std::collections::BTreeMap;
use std::path::Path;

/// A log that typed readings are written into.
pub struct TypedLog {
    journal: Journal,
    plan: Plan,
    instruments: BTreeMap<String, Instrument>,
    withdrawn: Vec<Entry>,
}

impl TypedLog {
    /// Opens a log, and reads its plan, instruments and withdrawals.
    ///
    /// # Errors
    /// As for [`super::Session::open`].
    pub fn open(log: &Path) -> Result<Self, SessionError> {
        let journal = Journal::open(log)?;
        let plan = plan_in(&journal, log)?;
        let withdrawn = journal.all_of_kind("withdrawn")?;
        let entered = journal.all_of_kind("instrument")?;
        let entered: Vec<Entry> = withdrawn.iter().cloned().chain(entered).collect();
        let instruments = known::instruments(&plan, &entered);
        Ok(Self { journal, plan, instruments, withdrawn })
    }

    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Checks that each of several readings can be read, before the first is recorded.
    ///
    /// # Errors
    /// As for [`TypedLog::take`], without the questions.
    pub fn readable(&self, takes: &[Take]) -> Result<(), SessionError> {
        takes.iter().try_for_each(|take| from_typed(&self.plan, &self.instruments, take).map(|_| ()))
    }

    /// Records one typed reading, as [`super::Session::take`] would, without reading all of the log: the cost is that
    /// of the round in progress. It is on disk when this returns. `who` is the person if the reading names none.
    ///
    /// Only the entries read are checked against the chain: those of the round, the plan, the instruments and the
    /// withdrawals. `check` and `verify` find changes elsewhere.
    ///
    /// # Errors
    /// As for [`super::Session::take`].
    pub fn take(&mut self, who: Option<&str>, take: &Take) -> Result<Taken, SessionError> {
        let by = named(take.by.as_deref(), who)?;
        let Self { journal, plan, instruments, withdrawn } = self;
        let Draft { mut reading, off_step } = from_typed(plan, instruments, take)?;
        let when = Clock::Machine.when();
        let at = when.at;
        let after = journal.last_seq()?.saturating_sub(reach(plan));
        let recent = round_under_way(journal, reading.instrument.as_deref(), after)?;
        let going =
            Rounds::of(&recent, 0).going(reading.instrument.as_deref(), at).filter(|_| !take.new_round);
        reading.round = match going {
            Some(round) => round,
            None => journal.highest_round()?.saturating_add(1),
        };
        let standing = standing(plan, recent.iter().chain(withdrawn.iter()));
        let instrument = reading.instrument.as_ref().and_then(|name| instruments.get(name));
        let question = Asking::beside(plan, &standing).question(&reading, instrument).or(off_step);
        reading.asked = answered(question, take.sure)?;
        let pair = other_half(&standing, &reading).cloned();
        let what = What::Reading(reading);
        let seq = journal.append(when, &by, &what)?.seq;
        journal.merge();
        told(plan, Entry { seq, at, offset: when.offset, by, what }, pair, instrument)
    }
}

fn plan_in(journal: &Journal, log: &Path) -> Result<Plan, SessionError> {
    let plan = match journal.latest_of_kind("replanned")? {
        Some(entry) => entry,
        None => journal.first()?,
    };
    logged_plan(plan.what.plan().ok_or_else(|| Refusal::NoPlan(log.to_owned()))?, log)
}

/// The readings of the instrument's last round since a stage began or a support was moved, oldest first, after a
/// given entry, and the work that made some of them stale.
fn round_under_way(
    journal: &Journal,
    instrument: Option<&str>,
    after: u64,
) -> Result<Vec<Entry>, SessionError> {
    let mut recent: Vec<Entry> = Vec::new();
    let mut round = None;
    for entry in journal.newest_first(after) {
        let entry = entry?;
        match &entry.what {
            other if Rounds::ends(other) => break,
            What::Reading(r) if r.instrument.as_deref() == instrument => {
                if *round.get_or_insert(r.round) != r.round {
                    break;
                }
                recent.push(entry);
            }
            What::Rework(_) => recent.push(entry),
            _ => {}
        }
    }
    recent.reverse();
    Ok(recent)
}
