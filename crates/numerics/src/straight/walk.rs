//! Heights from a level walked in steps, and the sag of a stretched line.

use super::StraightError;
use crate::simulate::Spread;

/// How far a horizontal stretched line hangs below its ends at distance `y` from one of them: w y (L - y) / 2T
/// (parabola; for tight lines the catenary differs by less than a part in a million). Use consistent units: N/mm, mm
/// and N give mm.
pub fn line_sag(weight_per_length: f64, span: f64, tension: f64, y: f64) -> f64 {
    weight_per_length * y * (span - y) / (2.0 * tension)
}

/// A profile of heights summed from the tilts of a level walked in steps (ISO 230-1), starting at height 0.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelWalk {
    /// Where the feet stood: the start and the end of every step.
    pub places: Vec<f64>,
    /// Heights there.
    pub heights: Vec<f64>,
    /// Variance of each height from the tilts' own errors: it grows with every step.
    variance: Vec<f64>,
}

impl LevelWalk {
    /// Sums `tilts` (rise per length) over `steps` (length of each, above zero). `uncertainties` are the tilts'
    /// independent standard uncertainties; a shared zero error tilts the whole profile and does not change its
    /// straightness.
    ///
    /// # Errors
    /// [`StraightError::Lengths`], [`StraightError::BadNumber`], and `OnePlace` if there are no steps.
    pub fn new(tilts: &[f64], steps: &[f64], uncertainties: &[f64]) -> Result<Self, StraightError> {
        for offsets in [steps.len(), uncertainties.len()] {
            if offsets != tilts.len() {
                return Err(StraightError::Lengths { places: tilts.len(), offsets });
            }
        }
        let usable = |i: &usize| {
            tilts[*i].is_finite() && steps[*i].is_finite() && steps[*i] > 0.0 && uncertainties[*i].is_finite()
        };
        if let Some(row) = (0..tilts.len()).find(|i| !usable(i)) {
            return Err(StraightError::BadNumber(row));
        }
        if tilts.is_empty() {
            return Err(StraightError::OnePlace);
        }
        let mut walk = Self { places: vec![0.0], heights: vec![0.0], variance: vec![0.0] };
        let (mut place, mut height, mut variance) = (0.0, 0.0, 0.0);
        for ((t, b), u) in tilts.iter().zip(steps).zip(uncertainties) {
            place += b;
            height += t * b;
            variance += (u * b) * (u * b);
            walk.places.push(place);
            walk.heights.push(height);
            walk.variance.push(variance);
        }
        Ok(walk)
    }

    /// Covariance of heights `i` and `j`, counted from 0 at the start.
    pub fn covariance(&self, i: usize, j: usize) -> f64 {
        self.variance[i.min(j)]
    }

    /// Standard uncertainty of height `i`.
    pub fn uncertainty(&self, i: usize) -> f64 {
        self.covariance(i, i).sqrt()
    }

    /// The minimum zone of the walk over `draws` simulated walks.
    ///
    /// # Errors
    /// See [`StraightError`].
    pub fn simulate(&self, draws: usize, seed: u64) -> Result<Spread, StraightError> {
        let steps: Vec<f64> = self.variance.windows(2).map(|v| (v[1] - v[0]).max(0.0).sqrt()).collect();
        super::simulate(&self.places, draws, seed, |rng, out| {
            let mut error = 0.0;
            out[0] = self.heights[0];
            for (i, s) in steps.iter().enumerate() {
                error += s * rng.normal();
                out[i + 1] = self.heights[i + 1] + error;
            }
        })
    }
}
