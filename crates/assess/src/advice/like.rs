//! Advice that starts from earlier wings, beside the advice that does not.

use super::view::{Advice, Expected, Step};
use super::whole::{advise, from_prior};
use super::{AdviceState, Summary, prior::Prior};
use crate::series::stiffness::Stiffness;
use crate::view::Assessment;
use quantity::shown::{K95, count, fixed};
use record::Entry;
use record::plan::Plan;
use serde::Serialize;

/// Advice from earlier wings.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Liked {
    #[serde(flatten)]
    pub advice: Advice,
    /// What it starts from, and what would be advised without it.
    pub like: LikeView,
}

/// What advice starts from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LikeView {
    /// The number of earlier wings it learned from.
    pub wings: usize,
    /// The sentence.
    pub words: String,
    /// What would be advised without them.
    pub without: WithoutView,
}

/// The figures of the advice without earlier wings.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WithoutView {
    /// What would be advised.
    pub state: AdviceState,
    /// The sentence that sums it up.
    pub words: Summary,
    /// The moves of supports.
    pub steps: Vec<Step>,
    pub setting: Option<Expected>,
    /// The washout error.
    pub washout: Option<Expected>,
    /// Largest deviation over its tolerance that is expected to remain.
    pub worst_expected: Option<f64>,
}

/// What to move, starting from earlier wings in the same jig; `None` if the series is not from this jig's supports.
pub fn advise_like(
    plan: &Plan,
    entries: &[Entry],
    assessment: &Assessment,
    like: &Stiffness,
) -> Option<Liked> {
    let prior: Prior = like.prior(plan)?;
    let without = advise(plan, entries, assessment);
    let wings = u64::try_from(like.wings).unwrap_or(u64::MAX);
    let words = format!(
        "from {}: {} ±{} of the twist arrives",
        count(wings, "earlier wing", "earlier wings"),
        fixed(like.share.mean, 2),
        fixed(K95 * like.share.u, 2),
    );
    Some(Liked {
        advice: from_prior(plan, entries, assessment, &[], &prior),
        like: LikeView {
            wings: like.wings,
            words,
            without: WithoutView {
                state: without.state,
                words: without.words,
                steps: without.steps,
                setting: without.setting,
                washout: without.washout,
                worst_expected: without.worst_expected,
            },
        },
    })
}
