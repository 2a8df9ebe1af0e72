//! Each station of the profile.

use super::ProfileFit;
use crate::incidence::{self, Incidence};
use crate::judge::{Spread, judged};
use crate::parts::Values;
use crate::resolve::Makeup;
use crate::view::{StationView, Verdict};
use quantity::Kind;
use record::plan::{Plan, Station};

/// A station with a usable incidence.
#[derive(Clone, Debug)]
pub struct StationValue {
    /// Its place in the plan's list.
    pub index: usize,
    /// Relative place along the span.
    pub eta: f64,
    /// Measured less design, in degrees.
    pub deviation: f64,
    /// The measured incidence.
    pub incidence: Incidence,
}

impl StationValue {
    /// The value of a station, by its place in the plan's list; none without a usable incidence among these.
    pub(super) fn of(plan: &Plan, index: usize, station: &Station, measured: &Values) -> Option<Self> {
        let incidence = incidence::of_station(plan, station, measured)?;
        Some(Self {
            index,
            eta: plan.eta(station.span),
            deviation: incidence.estimate.value - station.incidence.value(),
            incidence,
        })
    }
}

impl ProfileFit {
    /// Twist error of the station at this place in the list: from the fit, or by its own readings where it is set apart.
    pub(super) fn station_twist_error(&self, i: usize) -> Option<(f64, Spread)> {
        let station = self.stations.get(i)?;
        if self.fitted.contains(&i) {
            return Some(self.twist_error(station.eta));
        }
        let (error, u) = *self.less_setting().get(i)?;
        Some((error, Spread { u, dof: self.choice.fit.coverage_dof() }))
    }

    /// Every station of the plan; those without a usable reading with what is known of the design alone.
    pub(super) fn station_views(&self, plan: &Plan) -> Vec<StationView> {
        let suspects = self.suspects();
        let mut views: Vec<StationView> = plan.stations.iter().map(|s| blank(plan, s)).collect();
        let residuals = &self.choice.fit.residuals;
        for (i, value) in self.stations.iter().enumerate() {
            let Some(view) = views.get_mut(value.index) else { continue };
            let Some((error, spread)) = self.station_twist_error(i) else { continue };
            let in_fit = self.fitted.iter().position(|&f| f == i);
            view.remeasure = suspects.contains(&i);
            view.stands_out = view.remeasure || in_fit.is_none();
            let limits = plan.tolerances.station.map(|l| l.map(|d| d.value()));
            let judged =
                judged(&plan.rule, view.name.clone(), Kind::Angle, error, spread, limits, &Makeup::Fit);
            view.measured_deg = Some(value.incidence.estimate.value);
            view.measured_u_deg = Some(value.incidence.estimate.u());
            view.deviation_deg = Some(value.deviation);
            view.twist_error_deg = Some(error);
            view.u_deg = Some(spread.u);
            view.residual_deg = Some(self.departure(value));
            view.studentised = in_fit.and_then(|at| residuals.studentised.get(at).copied().flatten());
            view.verdict = judged.verdict;
            view.probability = judged.probability;
            view.decide = judged.decide;
            view.from = Some(value.incidence.from);
            view.reversed = value.incidence.reversed;
            // The fit cannot speak for a station that departs from it.
            if view.remeasure && view.verdict == Some(Verdict::Within) {
                view.verdict = Some(Verdict::Undecided);
                view.decide =
                    Some("it stands out from the others: measure it again, seated afresh".to_owned());
            }
        }
        views
    }
}

/// A station of which only the design is known.
pub(crate) fn blank(plan: &Plan, station: &Station) -> StationView {
    StationView {
        name: station.name.clone(),
        span_mm: station.span.value(),
        eta: plan.eta(station.span),
        design_deg: station.incidence.value(),
        measured_deg: None,
        measured_u_deg: None,
        deviation_deg: None,
        twist_error_deg: None,
        u_deg: None,
        residual_deg: None,
        studentised: None,
        verdict: None,
        probability: None,
        decide: None,
        remeasure: false,
        stands_out: false,
        from: None,
        reversed: false,
    }
}
