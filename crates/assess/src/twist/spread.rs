//! Uncertainty of what is computed from the stations: from their readings, and from the scatter of the ribs about the
//! curve.

use super::ProfileFit;
use crate::judge::Spread;
use numerics::scatter::{Cause, Scatter, Variance};
use std::sync::Arc;

/// A quantity as a combination of the measured stations.
pub(super) struct Combination<'a> {
    /// Weights of the stations' readings.
    pub readings: &'a [f64],
    /// Weights of the ribs' scatter.
    pub ribs: &'a [f64],
    /// The assumed cause of the scatter.
    pub cause: Cause,
}

impl ProfileFit {
    /// Its error: variance g'Vg from the readings and tau^2 b'b from the ribs; or phi g'Vg, if larger, where the two
    /// cannot be told apart.
    pub(super) fn spread(&self, scatter: &Arc<Scatter>, of: &Combination<'_>) -> Spread {
        let u = self.covariance.uncertainty_of(of.readings);
        self.spread_of(scatter, u * u, of.ribs.iter().map(|b| b * b).sum(), of.cause)
    }

    pub(super) fn spread_of(&self, scatter: &Arc<Scatter>, readings: f64, ribs: f64, cause: Cause) -> Spread {
        let variance = Variance { known: readings, per_tau2: ribs, cause };
        Spread::of(Arc::clone(scatter), variance)
    }

    /// Variance from the readings of each station less the setting: g = e_i - w with the weights w of the setting.
    pub(super) fn less_setting(&self, setting: &[f64]) -> Vec<f64> {
        let square = |own: &f64| own * own;
        let theirs: f64 = self.covariance.own().iter().zip(setting).map(|(s, w)| square(s) * w * w).sum();
        let shared: Vec<(&Vec<f64>, f64)> = self
            .covariance
            .shared()
            .iter()
            .map(|part| (part, part.iter().zip(setting).map(|(c, w)| c * w).sum()))
            .collect();
        let of = |(i, own): (usize, &f64)| {
            let own = square(own) * (1.0 - 2.0 * setting.get(i).copied().unwrap_or(0.0)) + theirs;
            let shared: f64 = shared
                .iter()
                .map(|(part, mean)| {
                    let apart = part.get(i).copied().unwrap_or(0.0) - mean;
                    apart * apart
                })
                .sum();
            (own + shared).max(0.0)
        };
        self.covariance.own().iter().enumerate().map(of).collect()
    }
}
