//! Results that one assessment needs again for the same numbers: a stage often left what still counts.

use crate::answers::Answers;
use numerics::bores::{Bore, BoresError, ShaftLine};
use numerics::rng::Normals;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// The results so far.
#[derive(Debug, Default)]
pub struct Computed {
    /// Shaft lines, by bores and shaft diameter.
    pub(super) shafts: Answers<(Vec<Bore>, f64), Result<ShaftLine, BoresError>>,
    /// Standard deviations from redrawing.
    redrawn: Answers<Redrawn, f64>,
    /// The draws of each seed.
    normals: RefCell<BTreeMap<u64, Normals>>,
}

/// Values to be drawn again.
#[derive(Debug, PartialEq)]
pub(super) struct Redrawn {
    pub seed: u64,
    /// Their places, by span.
    pub at: Vec<f64>,
    pub values: Vec<f64>,
    /// Their independent standard uncertainties.
    pub own: Vec<f64>,
}

/// Draws for each value.
const DRAWS: u16 = 400;

impl Computed {
    /// Standard deviation of a result when each value is drawn again with its own uncertainty.
    pub(super) fn redrawn(&self, of: Redrawn, follows: impl Fn(&[f64]) -> f64) -> f64 {
        self.redrawn.of(of, |of| {
            let mut normals = self.normals.borrow_mut();
            of.scatter(normals.entry(of.seed).or_insert_with(|| Normals::new(of.seed)), follows)
        })
    }
}

impl Redrawn {
    fn scatter(&self, normals: &mut Normals, follows: impl Fn(&[f64]) -> f64) -> f64 {
        let mut drawn = vec![0.0; self.values.len()];
        let (mut sum, mut squares) = (0.0, 0.0);
        normals.lots(usize::from(DRAWS), self.values.len(), |normals| {
            for (to, (value, (u, normal))) in
                drawn.iter_mut().zip(self.values.iter().zip(self.own.iter().zip(normals)))
            {
                *to = value + u * normal;
            }
            let found = follows(&drawn);
            sum += found;
            squares += found * found;
        });
        let mean = sum / f64::from(DRAWS);
        libm::sqrt((squares / f64::from(DRAWS) - mean * mean).max(0.0))
    }
}
