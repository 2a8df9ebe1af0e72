//! What would decide an undecided value of the profile: only what the next assessment will count, each with its
//! expected result.

use super::{Curve, ProfileFit, Source, StationValue};
use crate::estimate::Shared;
use crate::resolve::{MOST_SEATINGS, Sort, Way};
use numerics::display;
use numerics::scatter::{Cause, Variance};
use std::collections::BTreeSet;

/// The most further rounds worth proposing.
const MOST_ROUNDS: u32 = 4;

/// The variance of a value, by source.
struct Sources {
    own: f64,
    zeros: f64,
    rest: f64,
    ribs: f64,
}

/// What a person can do about a combination of the readings and of the ribs.
pub(super) fn ways(
    profile: &ProfileFit,
    curve: &Curve,
    readings: &[f64],
    ribs: &[f64],
    own: Cause,
) -> Vec<Way> {
    let now = sources(profile, readings, ribs);
    let cause = profile.source(curve);
    // Scatter that the readings explain shrinks with more readings; scatter of the ribs does not.
    let of_ribs = matches!(cause, Source::Ribs | Source::Unknown);
    let error = |s: &Sources, shrinks: f64, own: Cause| {
        let known = s.own + s.zeros + s.rest;
        let ribs = s.ribs * if of_ribs { 1.0 } else { shrinks };
        curve.scatter.error(Variance { known, per_tau2: ribs, cause: own })
    };
    let mut ways = Vec::new();
    if let Some(factor) = pair_factor(profile) {
        let then = Sources { own: now.own * factor, zeros: 0.0, ..now };
        let own = if cause == Source::Unknown { own } else { Cause::Things };
        let words = "read every station end for end".to_owned();
        ways.push(Way { sort: Sort::EndForEnd, words, error: error(&then, factor, own) });
    }
    let counted = f64::from(u32::try_from(profile.rounds.counted).unwrap_or(1).max(1));
    for more in 1..=MOST_ROUNDS {
        let factor = counted / (counted + f64::from(more));
        let then = Sources { own: now.own * factor, zeros: now.zeros * factor, ..now };
        let words = if more == 1 { "another round".to_owned() } else { format!("{more} more rounds") };
        ways.push(Way { sort: Sort::Rounds, words, error: error(&then, factor, own) });
    }
    ways
}

/// Further seatings of one station of such a combination.
pub(super) fn seatings(
    profile: &ProfileFit,
    curve: &Curve,
    i: usize,
    readings: &[f64],
    ribs: &[f64],
    own: Cause,
) -> Vec<Way> {
    let (Some(station), Some(weight)) = (profile.stations.get(i), readings.get(i)) else { return vec![] };
    let Some(reading) = station.reading.filter(|r| r.seating > 0.0) else { return vec![] };
    let now = sources(profile, readings, ribs);
    let step = reading.resolution * reading.resolution / 12.0;
    let (first, square) = (step + reading.seating * reading.seating, station.incidence.estimate.own.powi(2));
    let seated = |n: u32| {
        let then = step + reading.seating * reading.seating / f64::from(n);
        let known = now.own - square * weight * weight * (1.0 - then / first) + now.zeros + now.rest;
        let error = curve.scatter.error(Variance { known, per_tau2: now.ribs, cause: own });
        Way { sort: Sort::Seatings, words: format!("{n} seatings of it"), error }
    };
    (2..=MOST_SEATINGS).map(seated).collect()
}

fn sources(profile: &ProfileFit, readings: &[f64], ribs: &[f64]) -> Sources {
    let own: f64 = profile.covariance.own().iter().zip(readings).map(|(s, g)| (s * g) * (s * g)).sum();
    let all = profile.covariance.uncertainty_of(readings);
    let zero = |e: &Shared| matches!(e, Shared::Zero(..) | Shared::Zeros(..));
    let errors: BTreeSet<&Shared> = profile
        .stations
        .iter()
        .flat_map(|s| s.incidence.estimate.shared.keys())
        .filter(|e| zero(e))
        .collect();
    let of = |e: &Shared, s: &StationValue| s.incidence.estimate.shared.get(e).copied().unwrap_or(0.0);
    let moves = |e| profile.stations.iter().zip(readings).map(|(s, g)| of(e, s) * g).sum::<f64>();
    let zeros: f64 = errors.into_iter().map(|e| moves(e).powi(2)).sum();
    Sources { own, zeros, rest: (all * all - own - zeros).max(0.0), ribs: ribs.iter().map(|b| b * b).sum() }
}

/// The factor by which a reversal pair everywhere would shrink the readings' own variance; `None` if all are pairs,
/// or turning does not apply.
fn pair_factor(profile: &ProfileFit) -> Option<f64> {
    let single = profile.stations.iter().filter(|s| !s.incidence.reversed);
    let mut factor = None;
    for station in single {
        let reading = station.reading?;
        let step = reading.resolution * reading.resolution / 12.0;
        let seating = reading.seating * reading.seating;
        let alike = display::alike(reading.resolution, reading.seating);
        let one = (step * (1.0 + alike) / 2.0 + seating / 2.0) / (step + seating);
        factor = Some(f64::max(factor.unwrap_or(0.0), one));
    }
    factor.filter(|f| f.is_finite())
}
