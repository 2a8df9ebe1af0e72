//! The closing gate.

use super::{Obligation, ObligationState};
use record::GateState;
use serde::Serialize;

/// May the skins go on?
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Gate {
    /// `clear` only if every obligation is met, otherwise `hold`.
    pub state: GateState,
    /// Everything that must be proven, in the order of the sheet's board.
    pub obligations: Vec<Obligation>,
    /// Why it holds, one reason for each cause, worst first; empty if it is clear.
    pub reasons: Vec<Reason>,
}

impl Gate {
    /// How many obligations are in this state.
    #[must_use]
    pub fn count(&self, state: ObligationState) -> usize {
        self.obligations.iter().filter(|o| o.state == state).count()
    }
}

/// What sort of reason it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReasonKind {
    /// The log's chain is broken or was not walked, or a signature does not fit.
    Chain,
    /// A value is outside.
    Outside,
    /// What was recorded gives no value, or no limit says what passes.
    #[serde(rename = "cannot_judge")]
    CannotJudge,
    /// What was recorded contradicts itself, or what it depends on is in doubt.
    Doubtful,
    /// A value is undecided.
    Undecided,
    /// A reading looks wrong beside the others and should be taken again.
    Remeasure,
    /// A reading went stale.
    Stale,
    /// There is no reading.
    Missing,
    /// A stage was not begun.
    Stage,
    /// A thing was left open.
    Open,
}

/// One reason to hold: a cause with the obligations that hold because of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reason {
    /// What sort it is.
    pub kind: ReasonKind,
    /// The worst state of what holds because of it.
    #[serde(skip)]
    pub state: ObligationState,
    /// The thing it is about, by its name in the plan.
    pub about: Option<String>,
    /// The sentence for a person.
    pub words: String,
    /// The name by which obligations refer to it; unique.
    pub cause: String,
    /// How many obligations hold because of it.
    pub obligations: usize,
    /// What it is, without value and limit: a thing, or the things that hold because of it.
    pub what: String,
    /// The value found, with its 95 % and unit, if the thing is judged.
    pub found: Option<String>,
    /// Its limit, with its unit.
    pub limit: Option<String>,
    /// What would settle it, if the program knows.
    pub settles: Option<String>,
}
