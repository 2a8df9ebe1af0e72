//! Withdrawals, moves and notes, and what every entry needs.

use super::ask::answered;
use super::take::as_recorded;
use super::{Session, Taken, moves};
use crate::refusal::Refusal;
use crate::{SessionError, shown};
use assess::expect::Question;
use bench::Sure;
use quantity::{Kind, Millimetres};
use record::{Entry, Move, What, Withdrawable, Withdrawn};

#[derive(Clone, Debug, Default)]
pub struct TypedMove {
    pub support: String,
    /// How far: `3/8 turn cw`, `0.5 mm`.
    pub amount: String,
    pub sure: Sure,
}

impl TypedMove {
    /// A move that the person has not confirmed.
    pub fn new(support: &str, amount: &str) -> Self {
        Self { support: support.to_owned(), amount: amount.to_owned(), sure: Sure::Unsaid }
    }
}

impl Session {
    /// Appends an entry and reads whatever came before it.
    pub(super) fn append(&mut self, by: Option<&str>, what: &What) -> Result<Entry, SessionError> {
        let by = self.person(by)?;
        let head = self.journal.append(self.clock.when(), &by, what)?;
        self.read_back(head.seq)
    }

    /// Reads what was written, and finds the new entry. From here on it is in the log's own file, whatever else is
    /// beside it.
    pub(super) fn read_back(&mut self, seq: u64) -> Result<Entry, SessionError> {
        self.journal.merge();
        self.refresh()?;
        let found = self.entries.iter().rev().find(|e| e.seq == seq);
        Ok(found.cloned().ok_or(Refusal::LostEntry(seq))?)
    }

    pub(super) fn person(&self, given: Option<&str>) -> Result<String, SessionError> {
        named(given, self.who.as_deref())
    }

    /// Withdraws an entry, with a reason.
    ///
    /// # Errors
    /// If there is no such entry, it cannot be withdrawn or already was, or there is no reason.
    pub fn withdraw(&mut self, seq: u64, reason: &str) -> Result<Taken, SessionError> {
        self.refresh()?;
        let reason = worded(reason, Refusal::WithdrawnWhy)?;
        let found = self.withdrawable(seq)?;
        let back = match found.what {
            What::Withdrawn { seq: target, .. } => format!("; entry {target} counts again"),
            _ => String::new(),
        };
        let entry = self.append(None, &What::Withdrawn { seq, reason })?;
        let ack =
            format!("{} entry {seq} is withdrawn; it stays in the log with the reason{back}", entry.seq);
        Ok(Taken::new(entry, ack))
    }

    /// The entry with that number, even if it was left out in memory.
    pub(super) fn entry(&self, seq: u64) -> Result<Option<Entry>, SessionError> {
        let found = Entry::find(&self.entries, seq).cloned();
        if found.is_some() || self.passed == 0 || !(1..=self.head.seq).contains(&seq) {
            return Ok(found);
        }
        Ok(self.journal.entries_since(seq - 1).next().transpose()?)
    }

    /// The entry with that number, if it can be withdrawn now.
    pub(super) fn withdrawable(&self, seq: u64) -> Result<Entry, SessionError> {
        let Some(found) = self.entry(seq)? else {
            return Err(Refusal::NoEntry { seq, last: self.head.seq }.into());
        };
        if let Some(by) = Withdrawn::of(self.entries.iter()).by(seq) {
            return Err(Refusal::WithdrawnAlready { seq, by }.into());
        }
        if let Withdrawable::Never(instead) = found.what.withdrawable() {
            return Err(Refusal::NotWithdrawable { seq, instead }.into());
        }
        Ok(found)
    }

    /// Records a move of a support or foot: `3/8 turn cw`, `0.5 mm`, `+0.2 mm shim`.
    ///
    /// # Errors
    /// If the support is not in the plan or the amount cannot be read. [`SessionError::Asks`] if the move exceeds the
    /// support's travel and the person did not confirm it.
    pub fn record_move(&mut self, made: &TypedMove) -> Result<Taken, SessionError> {
        self.refresh()?;
        let (support, amount) = (made.support.trim(), made.amount.trim());
        let adjust = moves::adjust_of(&self.plan, support)?;
        let by = moves::amount(amount, adjust, self.plan.units)?;
        let question = self.move_question(support, by);
        let text = as_recorded(amount, self.plan.units.bare(Kind::Length));
        let mut moved = Move::typed(support, by, &text);
        moved.asked = answered(question, made.sure)?;
        let entry = self.append(None, &What::Move(moved))?;
        let ack = format!(
            "{} `{}` moved {:+.3} mm; what it carries must be measured again",
            entry.seq,
            shown(support),
            by.value()
        );
        Ok(Taken::new(entry, ack))
    }

    /// The question about a move of this many millimetres, typed or measured.
    pub fn move_question(&self, support: &str, by: Millimetres) -> Option<Question> {
        let earlier = Withdrawn::others(&self.entries).filter_map(|e| match &e.what {
            What::Move(made) => Some(made),
            _ => None,
        });
        assess::expect::move_question(&self.plan, support, by, earlier)
    }

    /// Records a move that was measured.
    ///
    /// # Errors
    /// If the support is not in the plan or cannot move, or the log cannot be written.
    pub fn measured_move(&mut self, moved: Move) -> Result<Taken, SessionError> {
        self.refresh()?;
        if matches!(moves::adjust_of(&self.plan, &moved.support)?, record::plan::Adjust::Fixed) {
            return Err(Refusal::Fixed(moved.support).into());
        }
        let before: Vec<String> = self.assessment().wanted.iter().map(ToString::to_string).collect();
        let entry = self.append(None, &What::Move(moved))?;
        let stale: Vec<String> = self
            .assessment()
            .wanted
            .iter()
            .map(ToString::to_string)
            .filter(|point| !before.contains(point))
            .collect();
        let mut ack = "move recorded.".to_owned();
        match stale.as_slice() {
            [] => {}
            [one] => ack.push_str(&format!(" {one} is stale.")),
            [first, .., last] => {
                ack.push_str(&format!(" {} points are stale, {first} to {last}.", stale.len()))
            }
        }
        Ok(Taken::new(entry, ack))
    }

    /// Writes a remark.
    ///
    /// # Errors
    /// If it is empty or the log cannot be written.
    pub fn note(&mut self, text: &str) -> Result<Taken, SessionError> {
        let text = worded(text, Refusal::EmptyRemark)?;
        let entry = self.append(None, &What::Note { text })?;
        let ack = format!("{} noted", entry.seq);
        Ok(Taken::new(entry, ack))
    }
}

/// The text without surrounding blanks; an error if nothing is left.
pub(super) fn worded(text: &str, otherwise: Refusal) -> Result<String, SessionError> {
    match text.trim() {
        "" => Err(otherwise.into()),
        text => Ok(text.to_owned()),
    }
}

/// The person given, else the other one; one of them must be known.
pub(super) fn named(given: Option<&str>, otherwise: Option<&str>) -> Result<String, SessionError> {
    let given = given.map(str::trim).filter(|n| !n.is_empty());
    let name = given.or(otherwise).ok_or(Refusal::NoPerson)?;
    may_be_a_person(name)?;
    Ok(name.to_owned())
}

/// Refuses what is no person's name: a text of many characters or lines fills every list and sheet.
pub(super) fn may_be_a_person(name: &str) -> Result<(), Refusal> {
    let fits = name.chars().count() <= LONGEST_NAME && !name.contains(char::is_control);
    if fits { Ok(()) } else { Err(Refusal::NoName(LONGEST_NAME)) }
}

/// The longest name of a person, in characters.
const LONGEST_NAME: usize = 80;
