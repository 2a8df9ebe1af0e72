//! Begins the next stage: in order with everything met, or on purpose with a reason.

use super::{Session, Taken, wings};
use crate::not_done::Unmet;
use crate::refusal::Refusal;
use crate::{NotKnown, SessionError, Unknown, shown};
use assess::Assessment;
use assess::view::{ReasonKind, Verdict};
use quantity::shown::count;
use record::{GateState, Point, StageBegun, What, WingSigned};
use std::collections::BTreeSet;

#[derive(Clone, Debug, Default)]
pub struct BeginStage {
    /// The stage's name; if not given, the next in plan order.
    pub name: Option<String>,
    /// Why the build goes on although something is not met, or stages are skipped.
    pub anyway: Option<String>,
}

impl BeginStage {
    /// The stage with this name, if everything before it is in order.
    pub fn named(name: &str) -> Self {
        Self { name: Some(name.to_owned()), anyway: None }
    }

    /// The stage with this name, whatever is not met, with a reason.
    pub fn anyway(name: &str, reason: &str) -> Self {
        Self { name: Some(name.to_owned()), anyway: Some(reason.to_owned()) }
    }
}

impl Session {
    /// The stage of the plan that a person means, by its name in the plan.
    ///
    /// # Errors
    /// If the plan has none with that name; the nearest is suggested.
    pub fn stage_named(&self, name: &str) -> Result<String, SessionError> {
        let name = name.trim();
        let stages = &self.plan.stages;
        let same = stages.iter().find(|s| s.name == name);
        if let Some(stage) = same.or_else(|| stages.iter().find(|s| s.name.eq_ignore_ascii_case(name))) {
            return Ok(stage.name.clone());
        }
        let all: Vec<String> = stages.iter().map(|s| s.name.clone()).collect();
        Err(NotKnown::name(Unknown::Stage { name: name.to_owned(), all: all.clone() }, name, all).into())
    }

    /// Begins a stage.
    ///
    /// # Errors
    /// If it is not in the plan, all stages are begun and none is named, or the log cannot be written.
    /// [`SessionError::Unmet`] if the present stage is not met or a stage would be skipped, and no reason was given.
    pub fn stage(&mut self, begin: &BeginStage) -> Result<Taken, SessionError> {
        self.refresh()?;
        let before = self.assessment();
        let present = before.stage.as_deref().and_then(|name| self.plan.stage_place(name));
        let next = present.map_or(0, |place| place + 1);
        let name = match &begin.name {
            Some(name) => self.stage_named(name)?,
            None => match self.plan.stages.get(next) {
                Some(stage) => stage.name.clone(),
                None if self.plan.stages.is_empty() => return Err(Refusal::NoStages.into()),
                None => return Err(Refusal::NoFurtherStage.into()),
            },
        };
        let place = self.plan.stage_place(&name).unwrap_or(next);
        let passed: Vec<String> =
            self.plan.stages.iter().take(place).skip(next).map(|stage| stage.name.clone()).collect();
        let again = present.is_some_and(|present| place <= present);
        let mut unmet: Vec<String> = Vec::new();
        if again {
            unmet.push(format!("stage `{name}` comes before the present one, or is it"));
        }
        let verdict = if present.is_some() { before.stage_verdict } else { None };
        if verdict.is_some_and(|v| v != Verdict::Within) {
            unmet.extend(
                before.gate.reasons.iter().filter(|r| r.kind != ReasonKind::Stage).map(|r| r.words.clone()),
            );
        }
        let closing = self.plan.closing_place();
        if present <= closing && Some(place) > closing {
            unmet.extend(self.not_closed(&before, &unmet));
        }
        let worst = verdict.filter(|v| *v != Verdict::Within);
        let reason = begin.anyway.as_deref().map(str::trim).filter(|r| !r.is_empty()).map(str::to_owned);
        let in_the_way = !unmet.is_empty() || !passed.is_empty() || worst.is_some();
        if in_the_way && reason.is_none() {
            let verdict = worst.unwrap_or(Verdict::Missing);
            return Err(SessionError::Unmet(Unmet { name, passed, unmet, verdict }));
        }
        let disturbs = self.disturbed_by(&name);
        let reason = reason.filter(|_| in_the_way);
        let entry =
            self.append(None, &What::Stage(StageBegun { name: name.clone(), passed, unmet, reason }))?;
        let mut ack = format!("{} stage `{}` begins", entry.seq, shown(&name));
        if disturbs > 0 {
            let points = count(disturbs, "point", "points");
            ack.push_str(&format!("; earlier readings of {points} no longer count for the gate"));
        }
        if let What::Stage(begun) = &entry.what {
            if !begun.passed.is_empty() {
                ack.push_str(&format!(
                    "; skipped: {}. What they require is still owed",
                    begun.passed.join(", ")
                ));
            }
            if !begun.unmet.is_empty() {
                ack.push_str(&format!("; {} not met, written down", begun.unmet.len()));
            }
        }
        Ok(Taken::new(entry, ack))
    }
}

impl Session {
    /// How many points that were read a stage disturbs.
    fn disturbed_by(&self, stage: &str) -> usize {
        let read: BTreeSet<&Point> = self
            .entries()
            .iter()
            .filter_map(|e| match &e.what {
                What::Reading(r) => Some(&r.point),
                _ => None,
            })
            .collect();
        self.plan.stage(stage).map_or(0, |s| s.disturbs.iter().filter(|p| read.contains(p)).count())
    }

    /// What speaks against closing the wing, which beginning a stage after the closing one decides: the gate holds,
    /// or nobody signed for the log as it is now.
    fn not_closed(&self, before: &Assessment, told: &[String]) -> Vec<String> {
        let words = before.gate.reasons.iter().map(|r| r.words.clone());
        let mut out: Vec<String> = words.filter(|words| !told.contains(words)).collect();
        let covers =
            |s: &WingSigned| s.sound && s.same_plan && s.uncovered == 0 && s.gate == GateState::Clear;
        if !wings::signed(self, self.head.seq).iter().any(covers) {
            out.push("nobody signed that the log is clear as it is now".to_owned());
        }
        out
    }
}
