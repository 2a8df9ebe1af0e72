//! One thing that must be proven, before anything is known about it.

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
    /// A judgement on these points says `within`.
    Judgement(Vec<Point>),
    /// Nothing can: the plan lacks something.
    Nothing(Lacks),
    /// A reading of a point that nothing judges; the plan would need a limit.
    Limit(Point),
    /// A wing's log was taken up, and the wing was cleared and signed; its name in the plan.
    Wing(String),
    /// The instrument was in order whenever it was used.
    Instrument,
    /// An open item was closed, or carried past on purpose; the stage that leaves it open, if any.
    Closed(Option<usize>),
    /// A loosened key of the plan was carried past on purpose; its name and old value, and the entry that changed it.
    Carried(u64),
    /// The chain of hashes fits.
    Chain,
    /// Every signature fits.
    Signatures,
    /// The plan is the one the log began with, or each change is known, and it requires something.
    Plan,
}

/// Something missing in a plan, so that a thing can never be proven.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Lacks {
    #[error("the plan has no stages, so nothing is required")]
    Stages,
    #[error("the plan has no tolerance, so nothing could be proven")]
    Tolerances,
    #[error("the plan has a tolerance for it and no {0}")]
    Thing(&'static str),
    /// Everything that the tolerance applies to is record-only.
    #[error("the plan has a tolerance for it, and record_only leaves no {0} to judge by it")]
    Judged(&'static str),
}

impl Owed {
    /// An obligation that a judgement meets.
    pub fn judged(kind: ObligationKind, about: &str, points: Vec<Point>) -> Self {
        Self { kind, about: about.to_owned(), by: By::Judgement(points) }
    }
}
