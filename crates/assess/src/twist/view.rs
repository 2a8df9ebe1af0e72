//! The whole view of a profile.

use super::ProfileFit;
use crate::conformity::LEVEL;
use crate::view::{BandPoint, Finding, StationView, Twist, TwistTest};
use numerics::bands::simultaneous_factor;
use numerics::gls::change_row;
use record::Limits;
use record::plan::Plan;
use std::collections::{BTreeMap, BTreeSet};

/// Number of places of the fixed grid from root datum to tip datum.
const GRID: u32 = 40;
/// Seed of the draws for the simultaneous band.
const SEED: u64 = 0x6a69_6774;
/// From this many stations on there is a band.
const BAND_STATIONS: usize = 5;

/// What is judged of a profile, without what would decide the undecided parts.
#[derive(Clone, Debug)]
pub struct Brief {
    /// As in [`Twist`].
    pub setting: Finding,
    /// As in [`Twist`].
    pub washout_error: Finding,
    /// As in [`Twist`], with no more than is measured.
    pub stations: Vec<StationView>,
    /// Every test of the profile, passed or not.
    pub tests: Vec<TwistTest>,
}

impl ProfileFit {
    /// What is judged.
    pub(super) fn brief(&self, plan: &Plan) -> Brief {
        Brief {
            setting: self.setting_finding(plan),
            washout_error: self.washout_finding(plan),
            stations: self.station_views(plan),
            tests: self.tests(plan),
        }
    }

    /// The view of these judgements.
    pub(super) fn view(&self, plan: &Plan, required: &BTreeSet<usize>, judged: Brief) -> Twist {
        let Brief { setting, washout_error, stations, tests } = judged;
        let curve = self.curve.as_ref();
        let (band, simultaneous_factor) = self.band(plan);
        let limits = plan.tolerances.station.map(Limits::values);
        Twist {
            order: curve.map_or(0, |c| c.fit.order),
            setting,
            washout_error,
            chi2: curve.map_or(0.0, |c| c.fit.chi2),
            dof: curve.map_or(0, |c| c.fit.dof),
            scatter_deg: curve.map(|c| c.shape.tau()),
            rounds: self.rounds.counted,
            root_mm: plan.wing.root.value(),
            tip_mm: plan.wing.tip.value(),
            lower_deg: limits.and_then(|l| l.lower),
            upper_deg: limits.and_then(|l| l.upper),
            simultaneous_factor,
            band,
            neighbours: self.steps(plan, required),
            remarks: self.remarks(plan, &stations),
            tests,
            stations,
            doubted: BTreeMap::new(),
        }
    }

    /// The curve less the setting with its simultaneous band, as far as the stations reach; `None` with fewer than
    /// five.
    fn band(&self, plan: &Plan) -> (Vec<BandPoint>, Option<f64>) {
        let enough = |c: &&super::Curve| c.reach.root && c.fitted.len() >= BAND_STATIONS;
        let Some(curve) = self.curve.as_ref().filter(enough) else { return (Vec::new(), None) };
        let last = curve.fitted.last().and_then(|i| self.stations.get(*i)).map_or(0.0, |s| s.eta);
        let to = if curve.reach.tip { 1.0 } else { last };
        let fit = &curve.fit;
        let grid: Vec<f64> = (0..=GRID).map(|i| to * f64::from(i) / f64::from(GRID)).collect();
        let rows: Vec<Vec<f64>> = grid.iter().map(|&e| change_row(fit.order, e)).collect();
        let factor = simultaneous_factor(&rows, &fit.covariance, &curve.shape, LEVEL, SEED);
        let limits = plan.tolerances.station.map(Limits::values);
        let point = |(eta, row): (&f64, &Vec<f64>)| BandPoint {
            span_mm: (plan.wing.root + (plan.wing.tip - plan.wing.root) * *eta).value(),
            fit_deg: fit.value(row),
            simultaneous_deg: factor * fit.uncertainty(row),
            lower_deg: limits.and_then(|l| l.lower),
            upper_deg: limits.and_then(|l| l.upper),
        };
        (grid.iter().zip(&rows).map(point).collect(), Some(factor))
    }
}
