//! What one assessment computes with the same numbers again: a stage often left what still counts.

use crate::answers::Answers;
use numerics::bores::{Bore, BoresError, ShaftLine};
use numerics::rng::Rng;

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
    /// Their standard uncertainties.
    pub own: Vec<f64>,
}

/// Draws of a value.
const DRAWS: u32 = 400;

impl Redrawn {
    /// Standard deviation of what follows from the values when each is drawn again by its own uncertainty.
    pub fn scatter(&self, follows: impl Fn(&[f64]) -> f64) -> f64 {
        let mut rng = Rng::new(self.seed);
        let mut drawn = vec![0.0; self.values.len()];
        let (mut sum, mut squares) = (0.0, 0.0);
        for _ in 0..DRAWS {
            for (to, (value, u)) in drawn.iter_mut().zip(self.values.iter().zip(&self.own)) {
                *to = value + u * rng.normal();
            }
            let found = follows(&drawn);
            sum += found;
            squares += found * found;
        }
        let mean = sum / f64::from(DRAWS);
        libm::sqrt((squares / f64::from(DRAWS) - mean * mean).max(0.0))
    }
}
