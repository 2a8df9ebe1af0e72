//! The closing gate.

use record::GateState;
use serde::Serialize;

/// May the skins go on?
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Gate {
    /// `clear` or `hold`.
    pub state: GateState,
    /// Every reason it holds, weightiest first; empty if it is clear.
    pub reasons: Vec<Reason>,
}

/// What sort of reason it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReasonKind {
    /// The log's chain is broken or was not walked.
    Chain,
    /// The last stage of the plan has not begun.
    Stage,
    /// A value is outside.
    Outside,
    /// A required point has no reading.
    Missing,
    /// A required point's reading went stale.
    Stale,
    /// A value is undecided.
    Undecided,
    /// A thing was left open.
    Open,
    /// A reading looks wrong beside the others and should be taken again.
    Remeasure,
}

/// One reason to hold.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reason {
    /// What sort it is.
    pub kind: ReasonKind,
    /// The point or judgement it is about (`incidence@S4`, `washout error`, `straightness of front spar`).
    pub about: Option<String>,
    /// The sentence for a person.
    pub words: String,
}
