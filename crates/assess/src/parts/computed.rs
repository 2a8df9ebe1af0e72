//! What one assessment computes with the same numbers again: a stage often left what still counts.

use crate::answers::Answers;
use numerics::bores::{Bore, BoresError, ShaftLine};

/// What was computed so far.
#[derive(Debug, Default)]
pub struct Computed {
    /// Shafts through bores, by the bores and the shaft's diameter.
    pub(super) shafts: Answers<(Vec<Bore>, f64), Result<ShaftLine, BoresError>>,
    /// Standard deviations by redrawing.
    pub(super) redrawn: Answers<Redrawn, f64>,
}

/// Values that were drawn again.
#[derive(Debug, PartialEq)]
pub(super) struct Redrawn {
    pub seed: u64,
    pub values: Vec<f64>,
    pub own: Vec<f64>,
    /// What was found of them.
    pub found: f64,
}
