//! The twist profile. A rib is judged by its own readings less the setting. Setting, washout error and band come from
//! a curve whose order depends on where the stations are. Scatter of the ribs about the curve is always allowed for.

mod again;
mod changes;
mod curve;
mod decide;
mod doubts;
mod fits;
mod parts;
mod reach;
mod readings;
mod repeats;
mod rounds;
mod spread;
mod stations;
mod steps;
mod value;
mod view;
mod words;

pub(crate) use changes::ALPHA;
pub use changes::{changes, previous};
pub use curve::Curve;
pub use fits::{Fits, Fitted};
pub use readings::Readings;
pub use repeats::of as repeats;
pub use value::StationValue;
pub use view::Brief;

use crate::estimate::{Estimate, Shared};
use crate::incidence;
use crate::parts::Values;
use numerics::dist;
use numerics::gls::Covariance;
use numerics::repeats::Agreement;
use numerics::scatter::Cause;
use record::Point;
use record::plan::{self, Plan};
use rounds::Rounds;
use std::collections::{BTreeMap, BTreeSet};

/// Below this probability, the stations scatter more than their readings explain.
const SCATTERS: f64 = 0.05;

/// The profile of one set of readings.
#[derive(Clone, Debug)]
pub struct ProfileFit {
    /// Stations with a usable incidence, by rising span.
    pub stations: Vec<StationValue>,
    /// Covariance of their deviations.
    pub covariance: Covariance,
    /// The curve through all except those set apart; `None` for fewer than three.
    pub curve: Option<Curve>,
    /// Repeats of each instrument that read them, against its claim.
    repeats: BTreeMap<String, Agreement>,
    /// How the rounds compare.
    rounds: Rounds,
}

/// The profile; `None` with fewer than two measured stations. `values` are those of the last round of each point.
pub fn fit_profile(plan: &Plan, values: &Values, readings: &Readings<'_>) -> Option<ProfileFit> {
    let mut profile = fit_all(plan, values, readings)?;
    again::set_apart(&mut profile, plan, values, readings);
    Some(profile)
}

/// The stations of a profile by rising span, without a curve; `None` with fewer than two measured.
pub fn stations(plan: &Plan, values: &Values, readings: &Readings<'_>) -> Option<Vec<StationValue>> {
    Some(Read::of(plan, values, readings)?.stations)
}

/// One station for each rib, by position in the list. A second one beside it on the same rib shows what the first showed; if
/// both were in the fit, ribs that scatter would seem to confirm themselves.
fn one_a_rib(plan: &Plan, stations: &[StationValue]) -> Vec<usize> {
    plan::one_a_rib(stations.iter().map(|s| plan.stations[s.index].span.value()))
}

/// The profile with every rib in the fit.
fn fit_all(plan: &Plan, values: &Values, readings: &Readings<'_>) -> Option<ProfileFit> {
    let Read { stations, repeats, rounds } = Read::of(plan, values, readings)?;
    let covariance = covariance(stations.iter().map(|s| &s.incidence.estimate));
    let curve = Curve::through(plan, &stations, &covariance, one_a_rib(plan, &stations));
    Some(ProfileFit { stations, covariance, curve, repeats, rounds })
}

/// The readings of the stations.
struct Read {
    stations: Vec<StationValue>,
    repeats: BTreeMap<String, Agreement>,
    rounds: Rounds,
}

impl Read {
    fn of(plan: &Plan, values: &Values, readings: &Readings<'_>) -> Option<Self> {
        let mut stations: Vec<StationValue> = incidence::measured(plan, values)
            .filter_map(|(index, station)| StationValue::of(plan, index, station, values))
            .collect();
        stations.sort_by(|a, b| a.eta.total_cmp(&b.eta));
        if stations.len() < 2 {
            return None;
        }
        let rounds = rounds::put_together(plan, readings, &mut stations);
        let repeats = repeats::of(plan, readings.points.iter().map(|(p, f)| (*p, *f)));
        for station in &mut stations {
            let read_by = |p: &Point| readings.points.get(p)?.used.last()?.reading.instrument.as_ref();
            let worst =
                station.incidence.points.iter().filter_map(read_by).filter_map(|name| repeats.get(name));
            let ratio = worst.filter(|r| r.p() < repeats::WORSE).map(Agreement::ratio).fold(1.0, f64::max);
            station.incidence.estimate.own *= libm::sqrt(ratio);
        }
        Some(Self { stations, repeats, rounds })
    }
}

/// The covariance of several estimates: independent parts on the diagonal, one rank-one part for every shared error.
pub fn covariance<'e>(estimates: impl Iterator<Item = &'e Estimate> + Clone) -> Covariance {
    let own = estimates.clone().map(|e| e.own).collect();
    let errors: BTreeSet<&Shared> = estimates.clone().flat_map(|e| e.shared.keys()).collect();
    errors.into_iter().fold(Covariance::new(own), |covariance, error| {
        covariance
            .with_shared(estimates.clone().map(|e| e.shared.get(error).copied().unwrap_or(0.0)).collect())
    })
}

/// The cause of the stations' scatter.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Source {
    /// There is no more scatter than the readings explain.
    None,
    /// The instrument repeats worse than it claims; the readings' own part is as the repeats showed.
    Instrument,
    /// The ribs: the instrument repeats well enough.
    Ribs,
    /// Ribs or instrument; nothing tells them apart.
    Unknown,
    /// Nothing was repeated, and the scatter is no more than the readings explain.
    NoRepeats,
}

impl ProfileFit {
    fn source(&self, curve: &Curve) -> Source {
        if self.repeats.values().any(|r| r.p() < repeats::WORSE) {
            return Source::Instrument;
        }
        let scatters = curve.fit.chi2_p < SCATTERS;
        let (q, dof) = self.repeats.values().fold((0.0, 0), |(q, dof), r| (q + r.chi2, dof + r.dof));
        if dof == 0 {
            return if scatters { Source::Unknown } else { Source::NoRepeats };
        }
        if !scatters {
            return Source::None;
        }
        let (theirs, ours) = (curve.fit.dof as f64, dof as f64);
        let ratio = (curve.fit.chi2 / theirs) / (q / ours);
        if dist::f_sf(ratio, theirs, ours) < SCATTERS { Source::Ribs } else { Source::Unknown }
    }

    /// What intervals of stations and changes must allow for.
    fn cause(&self, curve: &Curve) -> Cause {
        match self.source(curve) {
            Source::None | Source::Instrument | Source::Ribs => Cause::Things,
            Source::Unknown | Source::NoRepeats => Cause::Either,
        }
    }
}
