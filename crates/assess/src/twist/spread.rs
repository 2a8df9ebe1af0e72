//! Uncertainty of what is computed from the stations: from their readings, and from the scatter of the ribs about the
//! curve.

use super::ProfileFit;
use crate::judge::Spread;
use numerics::dot;
use numerics::scatter::{Cause, Scatter, Variance};
use std::sync::Arc;

impl ProfileFit {
    /// The error of a combination of the measured stations, with these weights on their readings and on the scatter of
    /// the ribs: variance g'Vg from the readings and tau^2 b'b from the ribs; or phi g'Vg, if larger, where the two
    /// cannot be told apart.
    pub(super) fn spread(
        &self,
        scatter: &Arc<Scatter>,
        readings: &[f64],
        ribs: &[f64],
        cause: Cause,
    ) -> Spread {
        let known = self.covariance.uncertainty_of(readings).powi(2);
        let per_tau2 = ribs.iter().map(|b| b * b).sum();
        Spread::of(Arc::clone(scatter), Variance { known, per_tau2, cause })
    }

    /// Variance from the readings of each station less the setting: g = e_i - w with the weights w of the setting.
    pub(super) fn less_setting(&self, setting: &[f64]) -> Vec<f64> {
        let square = |own: &f64| own * own;
        let theirs: f64 = self.covariance.own().iter().zip(setting).map(|(s, w)| square(s) * w * w).sum();
        let shared: Vec<(&Vec<f64>, f64)> =
            self.covariance.shared().iter().map(|part| (part, dot(part, setting))).collect();
        let of = |(i, own): (usize, &f64)| {
            let own = square(own) * (1.0 - 2.0 * setting.get(i).copied().unwrap_or(0.0)) + theirs;
            let apart = |(part, mean): &(&Vec<f64>, f64)| part.get(i).copied().unwrap_or(0.0) - mean;
            let shared: f64 = shared.iter().map(|of| apart(of).powi(2)).sum();
            (own + shared).max(0.0)
        };
        self.covariance.own().iter().enumerate().map(of).collect()
    }
}
