//! The list of what is not met and not merely lacking, from the gate's obligations.

use crate::view::{Assessment, ObligationKind, ObligationState};

/// One thing that is out or not decided.
pub(super) struct Out {
    pub kind: ObligationKind,
    pub about: String,
    pub state: ObligationState,
    pub words: String,
}

/// The gate's obligations that something was recorded for and that are not met. What was never recorded or went stale
/// is owed by a stage, now or later; the present stage's share comes last, as what to measure.
pub(super) fn outs(assessment: &Assessment) -> Vec<Out> {
    let open = |state: ObligationState| match state {
        ObligationState::Outside
        | ObligationState::CannotJudge
        | ObligationState::Doubtful
        | ObligationState::Undecided => true,
        ObligationState::Stale | ObligationState::Missing | ObligationState::Met => false,
    };
    let obligations = assessment.gate.obligations.iter().filter(|o| open(o.state));
    obligations
        .map(|o| Out { kind: o.kind, about: o.about.clone(), state: o.state, words: o.words.clone() })
        .collect()
}
