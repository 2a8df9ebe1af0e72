//! Withdrawing: one's own last entry, or several at once.

use super::write::worded;
use super::{Session, Taken};
use crate::SessionError;
use crate::refusal::Refusal;
use journal::NewEntry;
use quantity::shown::count;
use record::{Entry, What, Withdrawable, Withdrawn};

/// The reason for one's own slip, if none is typed.
pub const TYPED_WRONG: &str = "typed wrong";

#[derive(Clone, Debug, PartialEq)]
pub struct Withdrawals {
    pub entries: Vec<Entry>,
    /// What was withdrawn and what was skipped, as text.
    pub ack: String,
}

impl Session {
    /// The last entry by the session's person that can still be withdrawn.
    ///
    /// # Errors
    /// If nobody is named, or there is none.
    pub fn last_of_own(&self) -> Result<Entry, SessionError> {
        let me = self.person(None)?;
        let withdrawn = Withdrawn::of(self.entries.iter());
        let mine = |e: &&Entry| {
            e.by == me
                && !withdrawn.contains(e.seq)
                && !matches!(e.what.withdrawable(), Withdrawable::Never(_))
        };
        let nothing = || Refusal::NothingOf(me.clone());
        if self.passed == 0 {
            return Ok(self.entries.iter().rev().find(mine).cloned().ok_or_else(nothing)?);
        }
        for entry in self.journal.newest_first(0) {
            let entry = entry?;
            if mine(&&entry) {
                return Ok(entry);
            }
        }
        Err(nothing().into())
    }

    /// Withdraws the last entry by the session's person. Without a reason, it counts as typed wrong.
    ///
    /// # Errors
    /// As for [`Session::last_of_own`], and if the entry needs a reason and none is given.
    pub fn undo(&mut self, reason: Option<&str>) -> Result<Taken, SessionError> {
        let entry = self.last_of_own()?;
        let (seq, words) = (entry.seq, self.entry_words(&entry));
        let reason = reason.map(str::trim).filter(|r| !r.is_empty());
        if reason.is_none() && entry.what.withdrawable() == Withdrawable::WithReason {
            return Err(Refusal::NeedsReason { seq, words }.into());
        }
        let reason = reason.unwrap_or(TYPED_WRONG).to_owned();
        let taken = self.withdraw(seq, &reason)?;
        let back = match self.entries.iter().find(|e| e.seq == seq).map(|e| &e.what) {
            Some(What::Withdrawn { seq: target, .. }) => format!("; {target} counts again"),
            _ => String::new(),
        };
        let ack = format!("{} withdraws {seq} ({words}): {reason}{back}", taken.entry.seq);
        Ok(Taken { ack, ..taken })
    }

    /// Withdraws several entries for one reason, all or none. Withdrawals among them, and entries already withdrawn,
    /// are skipped.
    ///
    /// # Errors
    /// If one of them does not exist or can never be withdrawn, nothing is left to withdraw, or there is no reason.
    pub fn withdraw_all(&mut self, seqs: &[u64], reason: &str) -> Result<Withdrawals, SessionError> {
        self.refresh()?;
        let reason = worded(reason, Refusal::AllWithdrawnWhy)?;
        let withdrawn = Withdrawn::of(self.entries.iter());
        let (mut gone, mut over) = (Vec::new(), Vec::new());
        for seq in seqs {
            let is_one = |e: &&Entry| e.seq == *seq && matches!(e.what, What::Withdrawn { .. });
            if withdrawn.contains(*seq) || self.entries.iter().any(|e| is_one(&e)) {
                over.push(*seq);
            } else {
                gone.push(self.withdrawable(*seq)?.seq);
            }
        }
        if gone.is_empty() {
            return Err(Refusal::NothingOfThese.into());
        }
        let by = self.person(None)?;
        let when = self.clock.when();
        let all = gone.iter().map(|seq| {
            Ok::<_, SessionError>(NewEntry::new(
                when,
                by.clone(),
                What::Withdrawn { seq: *seq, reason: reason.clone() },
            ))
        });
        let head = self.journal.append_many(all)?;
        self.journal.merge();
        self.refresh()?;
        let first = head.seq + 1 - gone.len() as u64;
        let entries: Vec<Entry> =
            self.entries.iter().filter(|e| (first..=head.seq).contains(&e.seq)).cloned().collect();
        let number = count(gone.len(), "entry is", "entries are");
        let mut ack = format!("{}: {number} withdrawn ({})", numbers(first, head.seq), runs(&gone));
        if !over.is_empty() {
            ack.push_str(&format!("; skipped, already withdrawn or withdrawals themselves: {}", runs(&over)));
        }
        Ok(Withdrawals { entries, ack })
    }
}

fn numbers(first: u64, last: u64) -> String {
    if first == last { first.to_string() } else { format!("{first} to {last}") }
}

/// Numbers as a list, with consecutive ones as `14-18`.
pub fn runs(numbers: &[u64]) -> String {
    let mut all: Vec<(u64, u64)> = Vec::new();
    for n in numbers {
        match all.last_mut() {
            Some((_, last)) if *last + 1 == *n => *last = *n,
            _ => all.push((*n, *n)),
        }
    }
    let run = |(a, b): &(u64, u64)| if a == b { a.to_string() } else { format!("{a}-{b}") };
    all.iter().map(run).collect::<Vec<_>>().join(", ")
}
