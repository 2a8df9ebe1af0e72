//! Writes one typed reading into a log without reading all of it.

use super::ask::{Asking, answered};
use super::open::logged_plan;
use super::rounds::{Rounds, reach};
use super::standing::{other_half, standing};
use super::take::{Draft, from_typed, told};
use super::write::named;
use super::{Session, Take, Taken, known};
use crate::SessionError;
use crate::clock::Clock;
use journal::Journal;
use record::{Entry, Instrument, What};
use std::collections::BTreeMap;
use std::path::Path;

impl Session {
    /// The plan in force of the log at `log`; the rest of it is not read.
    ///
    /// # Errors
    /// As for [`Session::open_read_only`].
    pub fn plan_of(log: &Path) -> Result<record::Plan, SessionError> {
        plan_in(&Journal::open_read_only(log)?, log)
    }

    /// Records one typed reading in the log at `log`, as [`Session::take`] would, without reading all of it: the cost
    /// is that of the round in progress, not of the log. It is on disk when this returns. `who` is the person if the
    /// reading names none.
    ///
    /// Only the entries read are checked against the chain: those of the round, the plan, the instruments and the
    /// withdrawals. `check` and `verify` find changes elsewhere.
    ///
    /// # Errors
    /// As for [`Session::open`] and [`Session::take`].
    pub fn take_one(log: &Path, who: Option<&str>, take: &Take) -> Result<Taken, SessionError> {
        let by = named(take.by.as_deref(), who)?;
        let mut journal = Journal::open(log)?;
        let plan = plan_in(&journal, log)?;
        let Known { instruments: known, withdrawn } = known_in(&journal, &plan)?;
        let Draft { mut reading, off_step } = from_typed(&plan, &known, take)?;
        let when = Clock::Machine.when();
        let at = when.at;
        let after = journal.last_seq()?.saturating_sub(reach(&plan));
        let recent = round_under_way(&journal, reading.instrument.as_deref(), after)?;
        let going =
            Rounds::of(&recent, 0).going(reading.instrument.as_deref(), at).filter(|_| !take.new_round);
        reading.round = match going {
            Some(round) => round,
            None => journal.highest_round()?.saturating_add(1),
        };
        let standing = standing(&plan, recent.iter().chain(&withdrawn));
        let instrument = reading.instrument.as_ref().and_then(|name| known.get(name));
        let question = Asking::beside(&plan, &standing).question(&reading, instrument).or(off_step);
        reading.asked = answered(question, take.sure)?;
        let pair = other_half(&standing, &reading).cloned();
        let what = What::Reading(reading);
        let seq = journal.append(when, &by, &what)?.seq;
        journal.merge();
        told(&plan, Entry { seq, at, offset: when.offset, by, what }, pair, instrument)
    }

    /// Checks that each of several readings can be read, before the first is recorded.
    ///
    /// # Errors
    /// As for [`Session::take_one`], without the questions.
    pub fn readable(log: &Path, takes: &[Take]) -> Result<(), SessionError> {
        let journal = Journal::open_read_only(log)?;
        let plan = plan_in(&journal, log)?;
        let known = known_in(&journal, &plan)?;
        takes.iter().try_for_each(|take| from_typed(&plan, &known.instruments, take).map(|_| ()))
    }
}

/// What a reading is checked with, besides the plan.
struct Known {
    instruments: BTreeMap<String, Instrument>,
    withdrawn: Vec<Entry>,
}

fn known_in(journal: &Journal, plan: &record::Plan) -> Result<Known, SessionError> {
    let withdrawn = journal.all_of_kind("withdrawn")?;
    let entered = journal.all_of_kind("instrument")?;
    let entered: Vec<Entry> = withdrawn.iter().cloned().chain(entered).collect();
    Ok(Known { instruments: known::instruments(plan, &entered), withdrawn })
}

fn plan_in(journal: &Journal, log: &Path) -> Result<record::Plan, SessionError> {
    let plan = match journal.latest_of_kind("replanned")? {
        Some(entry) => entry,
        None => journal.first()?,
    };
    let (What::Replanned { plan, .. } | What::Started { plan, .. }) = &plan.what else {
        return Err(SessionError::NoPlan(log.to_owned()));
    };
    logged_plan(plan, log)
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
