//! Which stages of a plan are examined: those up to the closing, or those after it.

use record::plan::{Plan, Stage};

/// Part of a plan's stages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Span {
    /// Up to and including the stage that closes the wing.
    ToClosing,
    /// The stages after it, which have their own verdict and never reopen the decision.
    AfterClosing,
}

impl Span {
    /// Its stages, in plan order.
    pub fn stages(self, plan: &Plan) -> &[Stage] {
        let next = self.next(plan);
        match self {
            Self::ToClosing => plan.stages.get(..next),
            Self::AfterClosing => plan.stages.get(next..),
        }
        .unwrap_or_default()
    }

    /// Its stages with their positions in the plan.
    pub fn placed(self, plan: &Plan) -> impl DoubleEndedIterator<Item = (usize, &Stage)> {
        let first = if self == Self::ToClosing { 0 } else { self.next(plan) };
        self.stages(plan).iter().enumerate().map(move |(i, stage)| (first + i, stage))
    }

    /// The position of the first stage after the closing one.
    fn next(self, plan: &Plan) -> usize {
        plan.closing_place().map_or(0, |closing| closing + 1)
    }
}
