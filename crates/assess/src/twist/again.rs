//! Stations that stand out and were measured again: is it the wing or was it the reading?

use super::{ProfileFit, StationValue, choice};
use crate::estimate::measure;
use crate::history::{Freshness, Used};
use crate::parts::Values;
use record::plan::Plan;
use record::{Facing, Instrument, Point};
use std::collections::BTreeMap;

/// The share of a departure that each of two measurements must show by itself to count as a departure of the wing.
const CONFIRMS: f64 = 0.5;
/// Stations in the fit for every one set apart, at least: with fewer the others no longer say what is odd.
const OTHERS: usize = 3;

/// Two measurements of the points that were measured again, each taken alone.
#[derive(Clone, Debug, Default)]
pub struct Twice {
    first: Values,
    last: Values,
}

impl Twice {
    /// From the readings of points.
    pub fn of<'f>(
        plan: &Plan,
        instruments: &BTreeMap<String, Instrument>,
        points: impl Iterator<Item = (&'f Point, &'f Freshness)>,
    ) -> Self {
        let mut out = Self::default();
        for (point, freshness) in points {
            let Some((first, last)) = two_of(freshness) else { continue };
            out.first.extend(measure(plan, point, &first, instruments).map(|m| (point.clone(), m)));
            out.last.extend(measure(plan, point, &last, instruments).map(|m| (point.clone(), m)));
        }
        out
    }
}

/// The last two rounds of a point, or its first and its last seating in one round.
fn two_of(freshness: &Freshness) -> Option<(Vec<Used>, Vec<Used>)> {
    if !freshness.before.is_empty() {
        return Some((freshness.before.clone(), freshness.used.clone()));
    }
    let (mut first, mut last) = (Vec::new(), Vec::new());
    for facing in [None, Some(Facing::Forward), Some(Facing::Aft)] {
        let mut seatings = freshness.used.iter().filter(|u| u.reading.facing == facing);
        let Some(one) = seatings.next() else { continue };
        first.push(one.clone());
        last.push(seatings.next_back()?.clone());
    }
    Some((first, last))
}

/// The fit without the stations that stand out and did so in both measurements.
pub(super) fn set_apart(mut profile: ProfileFit, plan: &Plan, twice: impl FnOnce() -> Twice) -> ProfileFit {
    let mut suspects = profile.suspects();
    if suspects.is_empty() {
        return profile;
    }
    let twice = twice();
    loop {
        suspects.retain(|&i| departs_twice(&profile, plan, &twice, i));
        let left: Vec<usize> = profile.fitted.iter().copied().filter(|i| !suspects.contains(i)).collect();
        if suspects.is_empty() || left.len() < OTHERS * (profile.stations.len() - left.len()) {
            return profile;
        }
        let Some(choice) = choice(plan, &profile.stations, &profile.covariance, &left) else {
            return profile;
        };
        (profile.fitted, profile.choice) = (left, choice);
        suspects = profile.suspects();
    }
}

fn departs_twice(profile: &ProfileFit, plan: &Plan, twice: &Twice, i: usize) -> bool {
    let Some(station) = profile.stations.get(i) else { return false };
    let Some(planned) = plan.stations.get(station.index) else { return false };
    let departure = profile.departure(station);
    [&twice.first, &twice.last].into_iter().all(|values| {
        StationValue::of(plan, station.index, planned, values)
            .is_some_and(|alone| profile.departure(&alone) / departure >= CONFIRMS)
    })
}
