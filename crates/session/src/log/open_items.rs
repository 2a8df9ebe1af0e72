//! What is left open: named, closed, carried past the gate.

use super::write::worded;
use super::{Session, Taken};
use crate::refusal::Refusal;
use crate::{NotKnown, SessionError, Unknown, shown};
use assess::view::{Obligation, ObligationKind, Verdict};
use record::{OpenAction, OpenItem, What, Withdrawn};
use serde::Serialize;

/// An open item, with the number that identifies it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OpenNumbered {
    pub number: Option<u64>,
    pub item: String,
    /// The stage that left it open, if any.
    pub stage: Option<String>,
    /// `open`, or `carried past`.
    pub state: &'static str,
}

impl Session {
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

    /// Everything left open or carried past, each with the number that identifies it, if any: that of the entry that
    /// left it open, or of the stage that did if the stage leaves only one thing open.
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
            stage: o.stage.clone(),
            state: if o.action == OpenAction::Carried { "carried past" } else { "open" },
        };
        let assessment = self.assessment();
        assessment.open_items.iter().filter(|o| o.action != OpenAction::Closed).map(one).collect()
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
}
