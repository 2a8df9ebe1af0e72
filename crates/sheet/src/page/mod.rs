//! The content of each page.

mod answers;
mod blank;
mod board;
mod changed;
mod component;
mod event;
mod first;
mod frame;
mod gate;
mod geometry;
mod history;
mod judged;
mod look;
mod paper;
mod pictures;
mod rigging;
mod rounds;
mod shaft;
mod short;
mod signed;
mod spots;
mod stages;
mod trust;
mod twist;
mod verdict;
mod withdrawn;
mod words;

pub(crate) use blank::form;
pub(crate) use first::one_line;
pub(crate) use frame::{Frame, Head, gate_block};
pub(crate) use paper::does_not_approve;
pub(crate) use words::degrees;

use crate::flow::{Break, Grid, Piece, Stack};
use crate::text::Typesetter;
use crate::{Form, SheetError, Stamp};
use assess::Assessment;
use assess::view::{Obligation, ObligationKind, Verdict};
use quantity::Kind;
use quantity::shown::Scale;
use record::calendar;
use record::plan::Side;

#[derive(Clone, Copy)]
pub(crate) struct Sheet<'a> {
    pub a: &'a Assessment,
    pub set: &'a Typesetter,
    pub stamp: &'a Stamp,
    pub grid: Grid,
}

impl<'a> Sheet<'a> {
    pub(crate) fn pieces(&self) -> Result<Vec<Piece<'a>>, SheetError> {
        let mut stack = Stack::new(self.set, self.grid.width);
        match &self.stamp.form {
            Form::Full => {
                let mut begins = gate::page(self, &mut stack);
                let owed = &self.a.gate.obligations;
                if !self.a.rigging.is_empty() || owed.iter().any(|o| o.kind == ObligationKind::Rigging) {
                    rigging::page(self, &mut stack, begins);
                    begins = Break::Full("");
                }
                if !self.aeroplane() || self.a.twist.is_some() {
                    twist::page(self, &mut stack, begins);
                }
                history::page(self, &mut stack);
                geometry::page(self, &mut stack);
                trust::page(self, &mut stack);
            }
            Form::Short => {
                let begins = gate::page(self, &mut stack);
                short::page(self, &mut stack, begins);
            }
            Form::Component(name) => component::page(self, &mut stack, name)?,
        }
        Ok(stack.into_pieces())
    }

    /// Whether the plan is for a rigged aeroplane and not for a wing in its jig.
    pub(super) fn aeroplane(&self) -> bool {
        self.a.side == Side::Both
    }

    pub(super) fn length(&self) -> Scale {
        self.a.units.scale(Kind::Length)
    }

    pub(super) fn angle(&self) -> Scale {
        self.a.units.scale(Kind::Angle)
    }

    /// Whether there are pages to refer to.
    pub(super) fn full(&self) -> bool {
        self.stamp.form == Form::Full
    }

    /// The time of the last entry, as its writer's clock showed it.
    pub(super) fn when(&self) -> &'a str {
        self.a.last_entry_when.as_deref().or(self.a.last_entry_at.as_deref()).unwrap_or("")
    }

    pub(super) fn year(&self) -> &'a str {
        calendar::year(self.when())
    }

    pub(super) fn minute(&self, when: &str) -> String {
        calendar::minute(when, self.year())
    }

    pub(super) fn day(&self, when: &str) -> String {
        calendar::day(when, self.year())
    }

    pub(super) fn unmet(&self) -> usize {
        self.total() - self.a.gate.count(Verdict::Within)
    }

    pub(super) fn total(&self) -> usize {
        self.a.gate.obligations.len()
    }

    /// The entry from which the chain does not fit, and whether it is broken.
    pub(super) fn broken(&self) -> Option<Option<u64>> {
        let chain = self.record("chain").filter(|o| o.state == Verdict::Outside)?;
        Some(chain.evidence.first().copied())
    }

    pub(super) fn record(&self, about: &str) -> Option<&'a Obligation> {
        let record = |o: &&Obligation| o.kind == ObligationKind::Record && o.about == about;
        self.a.gate.obligations.iter().find(record)
    }

    /// `8 Jun 2031 13:56 · as the log was at entry 217`.
    pub(super) fn as_of(&self) -> String {
        format!("{} · as the log was at entry {}", calendar::full(self.when()), self.stamp.entries)
    }

    /// `serial 07 · drawing OT-200 issue C`.
    pub(super) fn identity(&self) -> Vec<(&'static str, String)> {
        let said = |text: &Option<String>| text.clone().unwrap_or_else(|| "not in the plan".to_owned());
        let id = &self.a.identity;
        let drawing = match (&id.drawing, &id.issue) {
            (Some(drawing), Some(issue)) => format!("{drawing} issue {issue}"),
            (Some(drawing), None) => drawing.clone(),
            (None, Some(issue)) => format!("issue {issue}"),
            (None, None) => said(&None),
        };
        vec![("serial", said(&id.serial)), ("drawing", drawing), ("place", said(&id.place))]
    }

    /// The text beside the name in the head of a later page.
    pub(crate) fn beside(&self, chapter: &str) -> String {
        let id: Vec<String> =
            self.identity().into_iter().take(2).map(|(word, fact)| format!("{word} {fact}")).collect();
        format!("{} · stage {} · {chapter}", id.join(" · "), self.stage())
    }

    /// `6 of 6, ready to skin`.
    pub(super) fn stage(&self) -> String {
        match (&self.a.stage, self.a.stage_number) {
            (Some(name), Some(n)) => format!("{} of {}, {name}", n.number, n.of),
            (Some(name), None) => name.clone(),
            (None, _) => "none begun".to_owned(),
        }
    }
}
