//! The closing gate.

use super::{Obligation, Verdict};
use record::GateState;
use serde::Serialize;
use std::cmp::Reverse;

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
    pub fn count(&self, state: Verdict) -> usize {
        self.obligations.iter().filter(|o| o.state == state).count()
    }
}

/// What sort of reason it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReasonKind {
    /// The log's chain is broken or was not walked, or a signature does not fit.
    Chain,
    /// A stage was not begun.
    Stage,
    /// A thing was left open.
    Open,
    /// The worst that was found of what holds because of it.
    #[serde(untagged)]
    Unmet(Verdict),
}

impl ReasonKind {
    /// Its place in the list, the worst first.
    pub(crate) const fn place(self) -> (u8, Option<Reverse<Verdict>>) {
        match self {
            Self::Chain => (0, None),
            Self::Unmet(worst) => (1, Some(Reverse(worst))),
            Self::Stage => (2, None),
            Self::Open => (3, None),
        }
    }
}

/// One reason to hold: a cause with the obligations that hold because of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reason {
    /// What sort it is.
    pub kind: ReasonKind,
    /// The worst state of what holds because of it.
    #[serde(skip)]
    pub state: Verdict,
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
