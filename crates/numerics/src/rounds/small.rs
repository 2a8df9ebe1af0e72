//! The small system left once the stations are eliminated.

use super::{Value, Zero, weight};
use crate::cholesky;

/// A diagonal entry below this share is zero: the effect cannot be told from the others.
const NOTHING: f64 = 1e-9;

/// The stations and effects (zeros, or whole rounds) that fit the readings best.
pub(super) struct Solved {
    /// Sum of the weights of each station's readings.
    pub weights: Vec<f64>,
    /// The value of each station.
    pub stations: Vec<f64>,
    pub effects: Vec<f64>,
    /// Which effects the readings determine, given those before them.
    pub determined: Vec<bool>,
    /// How much each station moves with each effect.
    reach: Vec<Vec<f64>>,
    /// Lower triangle of the effects' precision.
    root: Vec<Vec<f64>>,
}

impl Solved {
    /// `effect` gives the effect of a reading; `priors` has the prior precision of each effect about zero.
    pub fn of(
        stations: usize,
        values: &[Value],
        priors: &[f64],
        effect: impl Fn(&Value) -> Option<Zero>,
    ) -> Self {
        let effects = priors.len();
        let mut weights = vec![0.0; stations];
        let mut sums = vec![0.0; stations];
        let mut reach = vec![vec![0.0; stations]; effects];
        let mut precision = vec![vec![0.0; effects]; effects];
        let mut right = vec![0.0; effects];
        for v in values {
            let w = weight(v);
            weights[v.station] += w;
            sums[v.station] += w * v.value;
            if let Some(zero) = effect(v) {
                reach[zero.which][v.station] += w * zero.per_u;
                precision[zero.which][zero.which] += w * zero.per_u * zero.per_u;
                right[zero.which] += w * zero.per_u * v.value;
            }
        }
        let sizes: Vec<f64> = (0..effects).map(|a| precision[a][a] + priors[a]).collect();
        for a in 0..effects {
            precision[a][a] += priors[a];
            for i in (0..stations).filter(|i| weights[*i] > 0.0 && reach[a][*i] != 0.0) {
                let share = reach[a][i] / weights[i];
                right[a] -= share * sums[i];
                for (b, other) in reach.iter().enumerate() {
                    precision[a][b] -= share * other[i];
                }
            }
        }
        // An effect that the ones before it leave undetermined has a row of zeros.
        let root = cholesky::root(&precision, |a| NOTHING * sizes[a].max(f64::MIN_POSITIVE));
        let determined = (0..effects).map(|a| root[a][a] > 0.0).collect();
        let effects = cholesky::solve(&root, &right);
        let value = |i: usize| {
            if weights[i] == 0.0 {
                return 0.0;
            }
            let taken: f64 = reach.iter().zip(&effects).map(|(r, z)| r[i] * z).sum();
            (sums[i] - taken) / weights[i]
        };
        let values = (0..stations).map(value).collect();
        Self { stations: values, weights, effects, determined, reach, root }
    }

    /// The residual of a reading.
    pub fn residual(&self, v: &Value, effect: Option<Zero>) -> f64 {
        v.value - self.stations[v.station] - effect.map_or(0.0, |z| z.per_u * self.effects[z.which])
    }

    /// With B the reach over the weights and L L' the precision of the effects, the stations' covariance beyond their
    /// own is B (L L')^-1 B': the rows of L^-1 B' are the shared parts.
    pub fn shared(&self) -> Vec<Vec<f64>> {
        let count = self.weights.len();
        let mut parts: Vec<Vec<f64>> = Vec::with_capacity(self.reach.len());
        for (a, reach) in self.reach.iter().enumerate() {
            let mut part: Vec<f64> = (0..count)
                .map(|i| if self.weights[i] > 0.0 { reach[i] / self.weights[i] } else { 0.0 })
                .collect();
            for (b, earlier) in parts.iter().enumerate() {
                let factor = self.root[a][b];
                part.iter_mut().zip(earlier).for_each(|(p, e)| *p -= factor * e);
            }
            let diagonal = self.root[a][a];
            part.iter_mut().for_each(|p| *p = if diagonal > 0.0 { *p / diagonal } else { 0.0 });
            parts.push(part);
        }
        parts
    }
}
