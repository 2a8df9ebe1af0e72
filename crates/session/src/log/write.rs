//! Other entries: stages, withdrawals, moves, open items, notes, instruments, a new plan.

use super::ask::answered;
use super::take::as_recorded;
use super::{Session, Taken, known, moves};
use crate::refusal::Refusal;
use crate::{NotKnown, SessionError, Unknown, shown};
use assess::expect::Question;
use assess::view::{Obligation, ObligationKind, Verdict};
use bench::Sure;
use quantity::{Kind, Millimetres};
use record::plan::claims;
use record::{Entry, Instrument, InstrumentCheck, Move, OpenAction, OpenItem, What, Withdrawable, Withdrawn};

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

/// An open item, with the number that identifies it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenNumbered {
    pub number: Option<u64>,
    pub item: String,
    pub action: OpenAction,
    /// The stage that left it open, if any.
    pub stage: Option<String>,
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

    /// Leaves an item open, closes it, or carries it past the gate.
    ///
    /// # Errors
    /// If an item carried past has no reason, or the log cannot be written.
    pub fn open_item(
        &mut self,
        item: &str,
        action: OpenAction,
        reason: Option<&str>,
    ) -> Result<Taken, SessionError> {
        self.refresh()?;
        let item = self.item_meant(&worded(item, Refusal::OpenWhat)?)?;
        let reason = reason.map(str::trim).filter(|r| !r.is_empty()).map(str::to_owned);
        if action == OpenAction::Carried && reason.is_none() {
            return Err(Refusal::CarriedWhy.into());
        }
        if action != OpenAction::Opened {
            self.must_be_known(&item)?;
            self.must_be_open(&item, action)?;
        }
        if action == OpenAction::Closed && item.starts_with("looser: ") {
            return Err(Refusal::LoosenedNotClosed.into());
        }
        let did = match action {
            OpenAction::Opened => "is left open; the gate holds until it is closed",
            OpenAction::Closed => "is closed",
            OpenAction::Carried => "is carried past the gate on purpose; the sheet will say so",
        };
        let words = shown(&item).into_owned();
        let entry = self.append(None, &What::OpenItem(OpenItem { item, action, reason }))?;
        let ack = format!("{} `{words}` {did}", entry.seq);
        Ok(Taken::new(entry, ack))
    }

    /// Everything left open, each with the number that identifies it, if any: that of the entry that left it open, or
    /// of the stage that did if the stage leaves only one thing open.
    pub fn open_list(&self) -> Vec<OpenNumbered> {
        let counting = Withdrawn::others(&self.entries);
        let number = |item: &str| {
            counting.clone().find_map(|e| match &e.what {
                What::OpenItem(o) if o.item == item && o.action == OpenAction::Opened => Some(e.seq),
                What::Stage(begun) => {
                    let open = self.plan.stage(&begun.name).map(|s| s.open.as_slice());
                    matches!(open, Some([one]) if one == item).then_some(e.seq)
                }
                _ => None,
            })
        };
        let one = |o: &assess::view::OpenItemView| OpenNumbered {
            number: number(&o.item),
            item: o.item.clone(),
            action: o.action,
            stage: o.stage.clone(),
        };
        self.assessment().open_items.iter().map(one).collect()
    }

    /// The text of an open item, given as such, or by the number of the entry that left it open or loosened the plan.
    ///
    /// # Errors
    /// If that entry loosened several keys: each must be carried past by its own text.
    fn item_meant(&self, given: &str) -> Result<String, SessionError> {
        let Ok(seq) = given.parse::<u64>() else { return Ok(given.to_owned()) };
        let named = self.entries.iter().find(|e| e.seq == seq).map(|e| &e.what);
        let items: Vec<String> = match named {
            Some(What::OpenItem(o)) => vec![o.item.clone()],
            Some(What::Stage(begun)) => {
                self.plan.stage(&begun.name).map(|s| s.open.clone()).unwrap_or_default()
            }
            Some(What::Replanned { .. }) => {
                let assessment = self.assessment();
                let loosened = assessment.plan_changes.iter().filter(|c| c.entry == seq && c.looser);
                loosened.map(|c| c.words()).collect()
            }
            _ => Vec::new(),
        };
        match (items.as_slice(), named) {
            ([], _) => Ok(given.to_owned()),
            ([one], _) => Ok(one.clone()),
            (_, Some(What::Stage(begun))) => {
                Err(Refusal::SeveralOpen { stage: begun.name.clone(), items }.into())
            }
            _ => Err(Refusal::SeveralLoosened { seq, items }.into()),
        }
    }

    /// An item can be closed only with the text it was opened with; otherwise a slip would leave the gate holding.
    fn must_be_known(&self, item: &str) -> Result<(), SessionError> {
        let of_stages = self.plan.stages.iter().flat_map(|s| &s.open).cloned();
        let entered = self.entries.iter().filter_map(|e| match &e.what {
            What::OpenItem(o) => Some(o.item.clone()),
            _ => None,
        });
        let assessment = self.assessment();
        let of_gate = assessment.gate.obligations.iter().filter(|o| o.kind == ObligationKind::OpenItem);
        let loosened = of_gate.map(|o| o.about.clone());
        let all: Vec<String> = of_stages.chain(entered).chain(loosened).collect();
        if all.iter().any(|known| known == item) {
            return Ok(());
        }
        Err(NotKnown::name(Unknown::OpenItem(item.to_owned()), item, all).into())
    }

    /// What is settled is not settled again: a closed item stays closed, one carried past can still be closed. A key that was
    /// loosened again holds again, so it can be carried past again.
    fn must_be_open(&self, item: &str, action: OpenAction) -> Result<(), SessionError> {
        let assessment = self.assessment();
        let holds = |o: &Obligation| {
            o.kind == ObligationKind::OpenItem && o.about == item && o.state != Verdict::Within
        };
        if assessment.gate.obligations.iter().any(holds) {
            return Ok(());
        }
        let Some(last) = assessment.open_items.iter().find(|o| o.item == item) else { return Ok(()) };
        if last.action == OpenAction::Closed || last.action == action {
            let (item, entry) = (item.to_owned(), last.entry);
            return Err(Refusal::ItemSettled { item, action: last.action, entry }.into());
        }
        Ok(())
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
