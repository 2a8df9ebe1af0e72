//! Stations that stand out and were measured again: is it the wing or was it the reading?

use super::{Curve, ProfileFit, Readings, StationValue};
use crate::estimate::measure;
use crate::history::{Freshness, Used};
use crate::parts::Values;
use numerics::gls::Departure;
use record::Facing;
use record::plan::Plan;

/// Below this probability a station stands out from the others.
pub(super) const STANDS_OUT: f64 = 0.02;
/// The share of a departure that each of two measurements must show by itself to count as a departure of the wing.
const CONFIRMS: f64 = 0.5;
/// Stations in the fit for every one set apart, at least: with fewer the others no longer say what is odd.
const OTHERS: usize = 3;

/// Two measurements of the points that were measured again, each taken alone.
struct Twice {
    first: Values,
    last: Values,
}

impl Twice {
    fn of(plan: &Plan, readings: &Readings<'_>) -> Self {
        let (mut first_of, mut last_of) = (Values::new(), Values::new());
        for (point, freshness) in &readings.points {
            let Some((first, last)) = two_of(freshness) else { continue };
            let alone = |used: &[Used]| measure(plan, point, used);
            first_of.extend(alone(&first).map(|m| ((*point).clone(), m)));
            last_of.extend(alone(&last).map(|m| ((*point).clone(), m)));
        }
        Self { first: first_of, last: last_of }
    }
}

/// The last two rounds of a point, or its first and its last seating in one round.
fn two_of(freshness: &Freshness) -> Option<(Vec<Used>, Vec<Used>)> {
    if let Some(before) = freshness.earlier.last() {
        return Some((before.clone(), freshness.used.clone()));
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

/// Sets the stations apart that stand out and did so in both measurements, the worst first.
pub(super) fn set_apart(profile: &mut ProfileFit, plan: &Plan, readings: &Readings<'_>) {
    let mut twice: Option<Twice> = None;
    loop {
        let Some(curve) = &profile.curve else { return };
        let mut odd = departures(curve);
        odd.retain(|d| d.1.p < STANDS_OUT);
        if odd.is_empty() {
            return;
        }
        let twice = twice.get_or_insert_with(|| Twice::of(plan, readings));
        odd.sort_by(|a, b| b.1.t.abs().total_cmp(&a.1.t.abs()));
        let without = |i: usize| {
            let left: Vec<usize> = curve.fitted.iter().copied().filter(|other| *other != i).collect();
            let enough = left.len() >= OTHERS * (profile.stations.len() - left.len());
            let others = Curve::through(plan, &profile.stations, &profile.covariance, left)?;
            (enough && departs_twice(profile, &others, plan, twice, i)).then_some(others)
        };
        let Some(others) = odd.iter().find_map(|d| without(d.0)) else { return };
        profile.curve = Some(others);
    }
}

/// The departures of the stations in the curve that the others can check, with their places in the list of measured ones.
pub(super) fn departures(curve: &Curve) -> Vec<(usize, Departure)> {
    let all = curve.fit.residuals.departures();
    curve.fitted.iter().zip(all).filter_map(|(i, d)| Some((*i, d?))).collect()
}

/// True where each of two measurements, taken alone, departs from the curve through the others as both together do.
fn departs_twice(profile: &ProfileFit, others: &Curve, plan: &Plan, twice: &Twice, i: usize) -> bool {
    let Some(station) = profile.stations.get(i) else { return false };
    let Some(planned) = plan.stations.get(station.index) else { return false };
    let departure = others.departure(station);
    [&twice.first, &twice.last].into_iter().all(|values| {
        StationValue::of(plan, station.index, planned, values)
            .is_some_and(|alone| others.departure(&alone) / departure >= CONFIRMS)
    })
}
