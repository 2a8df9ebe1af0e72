//! A new plan: shows every change, and what is judged differently.

use super::Session;
use super::open::{logged_plan, parse_plan};
use super::write::worded;
use crate::SessionError;
use crate::files::read_plan_text;
use crate::refusal::Refusal;
use record::plan::{PlanChange, PlanText, changes};
use record::{Entry, What};
use serde::Serialize;
use std::collections::BTreeMap;
use std::path::Path;

#[derive(Clone, Debug, PartialEq)]
pub struct Replanned {
    pub entry: Entry,
    pub changes: Vec<PlanChange>,
    /// The text of each loosened key, which holds the gate until it is carried past.
    pub loosened: Vec<String>,
    /// What the new plan judges differently.
    pub verdicts: Vec<VerdictChange>,
}

/// An obligation whose state changes with the new plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct VerdictChange {
    pub about: String,
    /// Its state before; `None` if the old plan did not require it.
    pub old: Option<&'static str>,
    /// Its state now; `None` if the new plan no longer requires it.
    pub new: Option<&'static str>,
}

/// One replacement of the plan in the log's history.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanStep {
    /// Its number.
    pub entry: u64,
    pub reason: String,
    pub changes: Vec<PlanChange>,
}

impl Session {
    /// Replaces the plan, with a reason. From then on every loosened key holds the gate until it is carried past with
    /// a reason of its own or a later plan takes it back.
    ///
    /// # Errors
    /// If the new plan cannot be read or has a mistake, there is no reason, or the log cannot be written.
    pub fn replan(&mut self, plan: &Path, reason: &str) -> Result<Replanned, SessionError> {
        self.refresh()?;
        let reason = worded(reason, Refusal::ReplannedWhy)?;
        let text = read_plan_text(plan)?;
        let new = parse_plan(&text, plan)?;
        if text == self.plan_text {
            return Err(Refusal::SamePlan.into());
        }
        let old = PlanText { text: &self.plan_text, plan: &self.plan };
        let changes = changes(&old, &PlanText { text: &text, plan: &new });
        let before = self.states();
        let entry = self.append(None, &What::Replanned { plan: text, reason })?;
        let after = self.states();
        let loosened = changes.iter().filter(|c| c.looser).map(PlanChange::open_item).collect();
        Ok(Replanned { entry, changes, loosened, verdicts: differences(&before, &after) })
    }

    /// Every replacement of the plan, oldest first, with its changes.
    ///
    /// # Errors
    /// If a plan in the log cannot be read.
    pub fn plan_steps(&self) -> Result<Vec<PlanStep>, SessionError> {
        let mut steps = Vec::new();
        let mut before: Option<&str> = None;
        for entry in self.entries.iter() {
            match (&entry.what, before) {
                (What::Started { plan, .. }, None) => before = Some(plan),
                (What::Replanned { plan, reason }, Some(old)) => {
                    let (was, now) = (logged_plan(old, self.path())?, logged_plan(plan, self.path())?);
                    let (old, new) =
                        (PlanText { text: old, plan: &was }, PlanText { text: plan, plan: &now });
                    let changes = changes(&old, &new);
                    steps.push(PlanStep { entry: entry.seq, reason: reason.clone(), changes });
                    before = Some(plan);
                }
                _ => {}
            }
        }
        Ok(steps)
    }

    fn states(&self) -> BTreeMap<String, &'static str> {
        let assessment = self.assessment();
        let of = |o: &assess::view::Obligation| {
            (format!("{} {}", o.kind.word(), o.about), o.state.obligation_word())
        };
        assessment.gate.obligations.iter().map(of).collect()
    }
}

/// The obligations whose state changed.
fn differences(
    before: &BTreeMap<String, &'static str>,
    after: &BTreeMap<String, &'static str>,
) -> Vec<VerdictChange> {
    let mut abouts: Vec<&String> = before.keys().chain(after.keys()).collect();
    abouts.sort();
    abouts.dedup();
    let change = |about: &String| {
        let (old, new) = (before.get(about).copied(), after.get(about).copied());
        (old != new).then(|| VerdictChange { about: about.clone(), old, new })
    };
    abouts.into_iter().filter_map(change).collect()
}
