//! What is believed of the unknowns before a wing's own moves: the general belief, or what earlier wings did.

use super::belief::{Belief, COMMON};
use record::plan::Plan;

/// Independent normals for share, bow and what supports do to each other, in the order of [`super::belief`].
#[derive(Clone, Debug, PartialEq)]
pub struct Prior {
    /// Their means.
    pub mean: Vec<f64>,
    /// Their variances.
    pub variance: Vec<f64>,
}

/// An unknown that belongs to two supports, by their places in the plan's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pair {
    /// Its place among the unknowns.
    pub unknown: usize,
    /// The support that is carried along.
    pub carried: usize,
    /// The support that moves.
    pub moved: usize,
}

/// What a mm at a support does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PerMm {
    /// The support, by its place in the plan's list.
    pub support: usize,
    /// True where it is the twist between root and tip that it moves; else the setting.
    pub twists: bool,
    /// In degrees.
    pub deg_per_mm: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Over what geometry says.
    pub factor: f64,
}

impl Prior {
    /// Where nothing is known of such wings.
    #[must_use]
    pub fn general(plan: &Plan) -> Self {
        Belief::prior(plan).summary()
    }

    /// The same with every variance this many times as large.
    #[must_use]
    pub fn widened(&self, by: f64) -> Self {
        Self { mean: self.mean.clone(), variance: self.variance.iter().map(|v| v * by).collect() }
    }

    /// The unknowns that belong to two supports.
    #[must_use]
    pub fn pairs(&self, plan: &Plan) -> Vec<Pair> {
        let belief = Belief::prior(plan);
        let place = |s: usize| belief.field.supports[s];
        let pair = |(k, (i, j)): (usize, &(usize, usize))| Pair {
            unknown: COMMON + k,
            carried: place(*i),
            moved: place(*j),
        };
        belief.pairs.iter().enumerate().map(pair).collect()
    }

    /// What a mm at each support does by it; none of a support that geometry gives no effect.
    #[must_use]
    pub fn per_mm(&self, plan: &Plan) -> Vec<PerMm> {
        Belief::from_prior(plan, self).per_mm(plan)
    }
}
