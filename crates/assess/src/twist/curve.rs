//! The curve through the stations, and what it says about the scatter of the ribs.

use super::reach::{self, Reach};
use super::value::StationValue;
use numerics::gls::{self, Covariance, GlsFit, change_row, deviation_row};
use numerics::order;
use numerics::scatter::Scatter;
use record::plan::Plan;
use std::sync::Arc;

/// The curve and its results.
#[derive(Clone, Debug)]
pub struct Curve {
    /// The stations in the fit, by position in the list of measured ones.
    pub fitted: Vec<usize>,
    pub fit: GlsFit,
    /// What the residuals say about scatter beyond the covariance: its own residuals, or those of a lower curve (see
    /// [`order::of_scatter`]).
    pub scatter: Arc<Scatter>,
    /// The same from its own residuals alone, for the band, which concerns the shape that a lower curve does not
    /// follow.
    pub shape: Arc<Scatter>,
    /// Weights of all measured stations in the setting; 0 for those set apart.
    pub setting: Vec<f64>,
    /// Their weights in the washout error.
    pub washout: Vec<f64>,
    /// How far the stations reach.
    pub(super) reach: Reach,
}

impl Curve {
    /// Through some of the measured stations; `None` if there are too few to show any scatter (at least three).
    pub(super) fn through(
        plan: &Plan,
        stations: &[StationValue],
        covariance: &Covariance,
        fitted: Vec<usize>,
    ) -> Option<Self> {
        let some = || fitted.iter().filter_map(|&i| stations.get(i));
        let eta: Vec<f64> = some().map(|s| s.eta).collect();
        let values: Vec<f64> = some().map(|s| s.deviation).collect();
        let theirs = covariance.of_some(&fitted);
        let order = order::order(&eta, plan.rule.max_order);
        let fit = gls::fit(&eta, &values, &theirs, order).ok()?;
        let shape = Arc::new(scatter(&fit)?);
        let scatter = match order::of_scatter(&eta, order) {
            lower if lower < order => Arc::new(scatter(&gls::fit(&eta, &values, &theirs, lower).ok()?)?),
            _ => Arc::clone(&shape),
        };
        let all = |row: &[f64]| -> Option<Vec<f64>> {
            let some = fit.weights(row, &eta, &theirs).ok()?;
            let mut all = vec![0.0; stations.len()];
            fitted.iter().zip(some).for_each(|(&i, w)| all[i] = w);
            Some(all)
        };
        let setting = all(&deviation_row(order, 0.0))?;
        let washout = all(&change_row(order, 1.0))?;
        let reach = reach::reach(plan, &eta);
        Some(Self { fitted, fit, scatter, shape, setting, washout, reach })
    }

    /// Measured deviation of a station less the curve.
    pub(super) fn departure(&self, station: &StationValue) -> f64 {
        station.deviation - self.fit.value(&deviation_row(self.fit.order, station.eta))
    }
}

fn scatter(fit: &GlsFit) -> Option<Scatter> {
    Scatter::of(fit.chi2, fit.dof, fit.residuals.trace)
}
