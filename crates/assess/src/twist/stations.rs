//! Each station of the profile, judged by its own readings.

use super::decide;
use super::parts::Valued;
use super::{ProfileFit, StationValue, again, one_a_rib};
use crate::conformity::{LEVEL, conformity};
use crate::judge::Spread;
use crate::resolve::sentence;
use crate::view::{NoValue, StationView, Verdict};
use numerics::scatter::Variance;
use quantity::Kind;
use quantity::shown::K95;
use record::plan::{Plan, Station};
use std::collections::BTreeSet;
use std::sync::Arc;

impl ProfileFit {
    /// Twist errors of the measured stations: their own readings less the setting. `None` if the setting is unknown.
    pub(super) fn twist_errors(&self) -> Option<Vec<Valued>> {
        let curve = self.curve.as_ref()?;
        let setting = self.setting()?.value;
        let ribs: f64 = curve.setting.iter().map(|w| w * w).sum();
        let cause = self.cause(curve);
        let readings = self.less_setting(&curve.setting);
        let error = |(station, known): (&StationValue, f64)| Valued {
            value: station.deviation - setting,
            spread: Spread::of(Arc::clone(&curve.scatter), Variance { known, per_tau2: ribs, cause }),
        };
        Some(self.stations.iter().zip(readings).map(error).collect())
    }

    /// Every station of the plan. A station without a usable reading has no verdict.
    pub(super) fn station_views(&self, plan: &Plan) -> Vec<StationView> {
        let unmeasured = |station: &Station| {
            let mut view = blank(plan, station);
            view.why = Some(NoValue::NotMeasured);
            view
        };
        let mut views: Vec<StationView> = plan.stations.iter().map(unmeasured).collect();
        let errors = self.twist_errors();
        let odd = self.odd();
        let ribs = one_a_rib(plan, &self.stations);
        for (i, value) in self.stations.iter().enumerate() {
            let Some(view) = views.get_mut(value.index) else { continue };
            view.measured_deg = Some(value.incidence.estimate.value);
            view.measured_u_deg = Some(value.incidence.estimate.u());
            view.deviation_deg = Some(value.deviation);
            view.residual_deg = self.curve.as_ref().map(|c| c.departure(value));
            view.from = Some(value.incidence.from);
            view.reversed = value.incidence.reversed;
            view.remeasure = odd.contains(&i);
            view.stands_out = view.remeasure
                || self
                    .curve
                    .as_ref()
                    .is_some_and(|c| ribs.binary_search(&i).is_ok() && !c.fitted.contains(&i));
            match (&self.curve, errors.as_ref().and_then(|e| e.get(i))) {
                (Some(_), Some(error)) => judge(plan, view, error),
                _ => {
                    let why = self.unreached(plan);
                    view.verdict = plan.tolerances.station.map(|_| why.verdict());
                    view.decide = Some(why.to_string());
                    view.why = Some(why);
                }
            }
        }
        views
    }

    /// Marks required stations without a reading as missing, and adds to undecided ones what would decide them.
    pub(super) fn decide_stations(&self, plan: &Plan, required: &BTreeSet<usize>, views: &mut [StationView]) {
        for (index, view) in views.iter_mut().enumerate() {
            if view.measured_deg.is_none() {
                view.verdict = required.contains(&index).then_some(Verdict::Missing);
            }
        }
        let (Some(curve), Some(limits)) = (&self.curve, plan.tolerances.station) else { return };
        let limits = limits.values();
        for (i, value) in self.stations.iter().enumerate() {
            if let Some(view) = views.get_mut(value.index)
                && view.verdict == Some(Verdict::Undecided)
                && let (Some(error), Some(u)) = (view.twist_error_deg, view.u_deg)
            {
                let own = self.cause(curve);
                let mut readings: Vec<f64> = curve.setting.iter().map(|w| -w).collect();
                if let Some(weight) = readings.get_mut(i) {
                    *weight += 1.0;
                }
                let ribs = &curve.setting;
                let mut ways = decide::ways(self, curve, &readings, ribs, own);
                ways.extend(decide::seatings(self, curve, i, &readings, ribs, own));
                view.decide = Some(sentence(plan, Kind::Angle, error, u, limits, &ways));
            }
        }
    }

    /// The stations that stand out without confirmation, by position in the list of measured ones.
    pub(super) fn odd(&self) -> Vec<usize> {
        let Some(curve) = &self.curve else { return Vec::new() };
        again::departures(curve)
            .into_iter()
            .filter(|d| d.by.p < again::STANDS_OUT)
            .map(|d| d.station)
            .collect()
    }
}

fn judge(plan: &Plan, view: &mut StationView, found: &Valued) {
    let error = found.spread.error();
    let half = error.half_width(LEVEL);
    view.why = None;
    view.twist_error_deg = Some(found.value);
    view.u_deg = Some(half / K95);
    view.lower95_deg = Some(found.value - half);
    view.upper95_deg = Some(found.value + half);
    view.spread = Some(found.spread.clone());
    let found = plan.tolerances.station.map(|l| conformity(&plan.rule, found.value, &error, l.values()));
    view.verdict = found.map(|found| found.verdict);
    view.probability = found.map(|found| found.probability);
}

/// A station of which only the design is known.
pub(crate) fn blank(plan: &Plan, station: &Station) -> StationView {
    StationView {
        name: station.name.clone(),
        span_mm: station.span.value(),
        eta: plan.eta(station.span),
        design_deg: station.incidence.value(),
        ..StationView::default()
    }
}
