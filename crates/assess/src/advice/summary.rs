//! What advice comes to.

use super::decide::list;
use quantity::shown::count;
use serde::{Serialize, Serializer};

/// What advice comes to, in one sentence; that sentence in JSON. Ratios are deviations over their tolerance.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Summary {
    #[error("{} the largest deviation from {now:.1} of its tolerance ({at}) to {then:.1}.", bring(*.moves))]
    Brings { moves: usize, now: f64, at: String, then: f64 },
    #[error("{} the wing nearer.", bring(*.moves))]
    Nearer { moves: usize },
    /// What is to be moved beside the supports.
    #[error("Something must be moved: {}.", list(.0))]
    Move(Vec<String>),
    /// What no screw mends.
    #[error("Nothing to turn: no screw mends {}.", list(.0))]
    Mend(Vec<String>),
    #[error("Measure before moving anything.")]
    Measure,
    #[error("No move gains more than the measurement can tell.")]
    NoGain,
    #[error("No move brings everything inside its tolerance.")]
    NoMove,
    /// That many obligations.
    #[error("Nothing to turn, nothing to mend: all {0} obligations are met.")]
    AllMet(usize),
    #[error("Nothing to turn, nothing to mend: leave it alone.")]
    Leave,
}

fn bring(moves: usize) -> String {
    count(moves as u64, "move brings", "moves bring")
}

impl Serialize for Summary {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}
