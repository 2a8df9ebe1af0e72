//! One thing that must be proven, before anything is known of it.

use crate::view::ObligationKind;
use record::Point;

/// One thing that must be proven.
#[derive(Clone, Debug, PartialEq)]
pub struct Owed {
    /// What sort of thing.
    pub kind: ObligationKind,
    /// Its name in the plan.
    pub about: String,
    /// What proves it.
    pub by: By,
}

/// What proves an obligation.
#[derive(Clone, Debug, PartialEq)]
pub enum By {
    /// The stage at this place in the plan was begun.
    Begun(usize),
    /// A judgement that rests on these points says `within`.
    Judgement(Vec<Point>),
    /// Nothing can: the plan lacks something.
    Nothing(Lacks),
    /// A reading of a point that nothing judges; a limit would have to be in the plan.
    Limit(Point),
    /// The log of a wing was taken up, and the wing was cleared and signed for; its name in the plan.
    Wing(String),
    /// The instrument was in order whenever it was used.
    Instrument,
    /// A thing left open was closed, or carried past on purpose; the stage that leaves it open, if one does.
    Closed(Option<usize>),
    /// A loosened key of the plan was carried past on purpose; what it is and what it was, and the entry that changed it.
    Carried(u64),
    /// The chain of hashes fits.
    Chain,
    /// Every signature fits.
    Signatures,
    /// The plan is the one the log began with, or each change is known, and it asks for something.
    Plan,
}

/// What a plan lacks, so that something can never be proven.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Lacks {
    #[error("the plan has no stages, so nothing is required")]
    Stages,
    #[error("the plan has no tolerance, so nothing could be proven")]
    Tolerances,
    #[error("the plan has a tolerance for it and no {0}")]
    Thing(&'static str),
    /// Every thing that the tolerance is for is only recorded.
    #[error("the plan has a tolerance for it, and record_only leaves no {0} to judge by it")]
    Judged(&'static str),
}

impl Owed {
    /// An obligation that a judgement discharges.
    pub fn judged(kind: ObligationKind, about: &str, points: Vec<Point>) -> Self {
        Self { kind, about: about.to_owned(), by: By::Judgement(points) }
    }
}
