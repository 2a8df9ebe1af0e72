//! The twist profile: the fit, its parts, its bands, and each station's verdict.

mod again;
mod changes;
mod stations;
mod words;

pub use again::Twice;
pub use changes::{changes, previous, two_sided};
pub use stations::StationValue;

use crate::estimate::{Estimate, Shared};
use crate::judge::{Spread, judged};
use crate::parts::Values;
use crate::resolve::Makeup;
use crate::view::{BandPoint, Judged, Twist};
use numerics::bands::simultaneous_factor;
use numerics::gls::{Choice, Covariance, change_row, choose_order, deviation_row};
use quantity::Kind;
use record::Limits;
use record::plan::Plan;
use std::collections::BTreeSet;

/// Level of the bands.
const BAND: f64 = 0.95;
/// Places of the fixed grid from root datum to tip datum.
const GRID: u32 = 40;
/// Seed of the simultaneous band's draws.
const SEED: u64 = 0x6a69_6774;
/// Family-wise significance at which a reading is named for measuring again.
pub(crate) const OUTLIER_ALPHA: f64 = 0.05;

/// The profile of one set of readings: what was fitted and the fit.
#[derive(Clone, Debug)]
pub struct ProfileFit {
    /// Stations with a usable incidence, by growing span.
    pub stations: Vec<StationValue>,
    /// Covariance of their deviations.
    pub covariance: Covariance,
    /// Those of them, by their place in that list, that are in the fit: all but the ones that stand out and did so again.
    pub fitted: Vec<usize>,
    /// The fit chosen.
    pub choice: Choice,
}

/// Fits the profile; `None` with fewer than two stations at different places. `twice` gives two measurements of each point
/// that was measured again.
pub fn fit_profile(plan: &Plan, measured: &Values, twice: impl FnOnce() -> Twice) -> Option<ProfileFit> {
    let stations: Vec<StationValue> = plan
        .stations
        .iter()
        .enumerate()
        .filter_map(|(index, station)| StationValue::of(plan, index, station, measured))
        .collect();
    let covariance = covariance(stations.iter().map(|s| &s.incidence.estimate));
    let fitted: Vec<usize> = (0..stations.len()).collect();
    let choice = choice(plan, &stations, &covariance, &fitted)?;
    Some(again::set_apart(ProfileFit { stations, covariance, fitted, choice }, plan, twice))
}

/// The fit through some of the stations, by their place in the list.
fn choice(
    plan: &Plan,
    stations: &[StationValue],
    covariance: &Covariance,
    fitted: &[usize],
) -> Option<Choice> {
    let some = || fitted.iter().filter_map(|&i| stations.get(i));
    let eta: Vec<f64> = some().map(|s| s.eta).collect();
    let values: Vec<f64> = some().map(|s| s.deviation).collect();
    choose_order(&eta, &values, &covariance.of_some(fitted), plan.rule.max_order.unwrap_or(3))
        .ok()
        .filter(|choice| choice.fit.order >= 1)
}

/// The covariance of several estimates: own parts on the diagonal, one rank-one part for every shared error.
pub fn covariance<'e>(estimates: impl Iterator<Item = &'e Estimate> + Clone) -> Covariance {
    let own = estimates.clone().map(|e| e.own).collect();
    let errors: BTreeSet<&Shared> = estimates.clone().flat_map(|e| e.shared.keys()).collect();
    errors.into_iter().fold(Covariance::new(own), |covariance, error| {
        covariance
            .with_shared(estimates.clone().map(|e| e.shared.get(error).copied().unwrap_or(0.0)).collect())
    })
}

impl ProfileFit {
    /// Coverage of everything that follows from the fit.
    pub fn spread(&self, row: &[f64]) -> Spread {
        Spread { u: self.choice.fit.uncertainty(row), dof: self.choice.fit.coverage_dof() }
    }

    /// Setting, the polynomial at the root datum.
    pub fn setting(&self) -> (f64, Spread) {
        let row = deviation_row(self.choice.fit.order, 0.0);
        (self.choice.fit.value(&row), self.spread(&row))
    }

    /// What a value departs by from the fitted deviation at a relative place.
    fn departure(&self, value: &StationValue) -> f64 {
        let fit = &self.choice.fit;
        value.deviation - fit.value(&deviation_row(fit.order, value.eta))
    }

    /// Twist error at a relative place.
    pub fn twist_error(&self, eta: f64) -> (f64, Spread) {
        let row = change_row(self.choice.fit.order, eta);
        (self.choice.fit.value(&row), self.spread(&row))
    }

    /// The stations in the fit that stand out from the others, by their place in the list.
    pub fn suspects(&self) -> Vec<usize> {
        let suspects = self.choice.fit.residuals.suspects(OUTLIER_ALPHA);
        suspects.into_iter().filter_map(|i| self.fitted.get(i).copied()).collect()
    }

    /// Deviation of every station less the fitted setting, with the uncertainty of that difference: what the whole wing did
    /// is not twist, and the zero of the instrument is not either.
    pub fn less_setting(&self) -> Vec<(f64, f64)> {
        let fit = &self.choice.fit;
        let (setting, _) = self.setting();
        let eta: Vec<f64> = self.fitted.iter().filter_map(|&i| self.stations.get(i)).map(|s| s.eta).collect();
        let theirs = self.covariance.of_some(&self.fitted);
        let weights = fit.weights(&deviation_row(fit.order, 0.0), &eta, &theirs);
        let mut combination = vec![0.0; self.stations.len()];
        for (&i, weight) in self.fitted.iter().zip(weights.unwrap_or_default()) {
            combination[i] = -weight;
        }
        let mut out = Vec::with_capacity(self.stations.len());
        for (i, station) in self.stations.iter().enumerate() {
            combination[i] += 1.0;
            out.push((station.deviation - setting, self.covariance.uncertainty_of(&combination) * fit.scale));
            combination[i] -= 1.0;
        }
        out
    }

    /// The whole view of it.
    pub fn view(&self, plan: &Plan) -> Twist {
        let fit = &self.choice.fit;
        let (setting, setting_spread) = self.setting();
        let (washout, washout_spread) = self.twist_error(1.0);
        let part = |what: &str, value, spread, limits: Option<Limits<quantity::Degrees>>| {
            judged(
                &plan.rule,
                what,
                Kind::Angle,
                value,
                spread,
                limits.map(|l| l.map(|d| d.value())),
                &Makeup::Fit,
            )
        };
        let pointwise = fit.coverage_factor(BAND);
        let grid: Vec<f64> = (0..=GRID).map(|i| f64::from(i) / f64::from(GRID)).collect();
        let rows: Vec<Vec<f64>> = grid.iter().map(|&e| change_row(fit.order, e)).collect();
        let simultaneous = simultaneous_factor(&rows, &fit.covariance, fit.coverage_dof(), BAND, SEED);
        let band = grid
            .iter()
            .zip(&rows)
            .map(|(&eta, row)| {
                let u = fit.uncertainty(row);
                BandPoint {
                    span_mm: (plan.wing.root + (plan.wing.tip - plan.wing.root) * eta).value(),
                    fit_deg: fit.value(row),
                    pointwise_deg: pointwise * u,
                    simultaneous_deg: simultaneous * u,
                    lower_deg: plan.tolerances.station.and_then(|l| l.lower).map(|d| d.value()),
                    upper_deg: plan.tolerances.station.and_then(|l| l.upper).map(|d| d.value()),
                }
            })
            .collect();
        let stations = self.station_views(plan);
        Twist {
            order: fit.order,
            orders: words::orders(&self.choice),
            setting: part("setting", setting, setting_spread, plan.tolerances.setting),
            washout_error: part("washout error", washout, washout_spread, plan.tolerances.washout),
            chi2: fit.chi2,
            dof: fit.dof,
            scale: fit.scale,
            pointwise_factor: pointwise,
            simultaneous_factor: simultaneous,
            band,
            neighbours: self.neighbours(plan),
            remarks: words::remarks(self, &stations),
            stations,
        }
    }

    /// The change of the measured deviation from each measured station to the next; what they share cancels.
    fn neighbours(&self, plan: &Plan) -> Vec<Judged> {
        let limits = plan.tolerances.neighbour.map(|l| l.map(|d| d.value()));
        let fit = &self.choice.fit;
        self.stations
            .windows(2)
            .enumerate()
            .filter_map(|(i, pair)| {
                let [inner, outer] = pair else { return None };
                let mut weights = vec![0.0; self.stations.len()];
                weights[i] = -1.0;
                weights[i + 1] = 1.0;
                let u = self.covariance.uncertainty_of(&weights) * fit.scale;
                let names = (plan.stations.get(inner.index)?, plan.stations.get(outer.index)?);
                Some(judged(
                    &plan.rule,
                    format!("change from {} to {}", names.0.name, names.1.name),
                    Kind::Angle,
                    outer.deviation - inner.deviation,
                    Spread { u, dof: fit.coverage_dof() },
                    limits,
                    &Makeup::Unknown,
                ))
            })
            .collect()
    }
}
