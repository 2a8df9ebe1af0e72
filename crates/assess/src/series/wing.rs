//! One log as a series takes it in.

use super::creep::{self, StageChange};
use super::figure::{Figure, Figures, Lacking};
use super::zeros::{self, Found};
use crate::advice::observations;
use crate::advice::observed::Event;
use crate::history::Fold;
use crate::{Because, Broken, Chain, assess_fold};
use record::plan::Plan;
use record::{At, Entry, GateState};

/// A log up to the end of the stage in question.
#[derive(Clone, Copy, Debug)]
pub struct WingLog<'a> {
    /// What it is called.
    pub name: &'a str,
    pub plan: &'a Plan,
    /// Its entries up to the end of that stage.
    pub entries: &'a [Entry],
    /// Whether its chain is whole.
    pub chain: &'a Chain,
}

/// What a series takes of a log.
#[derive(Clone, Debug)]
pub struct Wing {
    /// What the log is called.
    pub log: String,
    /// The wing's name in its plan.
    pub wing: String,
    /// When the last entry that counts was written.
    pub at: At,
    /// How many entries count.
    pub entries: u64,
    /// The state of its gate then.
    pub gate: GateState,
    /// Its values.
    pub figures: Vec<Figure>,
    /// What has no value that counts.
    pub lacking: Vec<Lacking>,
    /// What each stage did to its twist.
    pub changes: Vec<StageChange>,
    /// What its moves taught.
    pub events: Vec<Event>,
    /// What its instruments showed.
    pub found: Vec<Found>,
}

/// Why a log does not count.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotCountedWhy {
    /// Its chain is broken.
    #[error("the record is broken, so nothing in it is proven: {0}")]
    Broken(#[source] Broken),
    /// It has no entry, or none with a value.
    #[error("nothing that counts was measured in it")]
    NothingMeasured,
    /// Whoever opened it says so.
    #[error(transparent)]
    NotTaken(Because),
}

impl Wing {
    /// Takes a log in.
    ///
    /// # Errors
    /// If it cannot be judged.
    pub fn of(log: WingLog<'_>) -> Result<Self, NotCountedWhy> {
        let WingLog { name, plan, entries, chain } = log;
        if let Chain::Broken(why) = chain {
            return Err(NotCountedWhy::Broken(why.clone()));
        }
        let fold = Fold::of(plan, entries);
        let assessment = assess_fold(plan, &fold, chain, crate::Stages::Named);
        let Figures { found: figures, lacking } = Figures::of(&assessment);
        let (Some(at), false) = (fold.last_at, figures.is_empty()) else {
            return Err(NotCountedWhy::NothingMeasured);
        };
        Ok(Self {
            log: name.to_owned(),
            wing: plan.wing.name.clone(),
            at,
            entries: fold.entries,
            gate: assessment.gate.state,
            figures,
            lacking,
            changes: creep::changes(plan, &fold),
            events: observations::events(plan, entries, &fold),
            found: zeros::found(&fold, &assessment),
        })
    }
}
