//! Stations that stand out and were measured again: is it the wing, or was it the reading?

use super::{Curve, ProfileFit, Readings, StationValue};
use crate::estimate::measure;
use crate::history::{Freshness, Used};
use crate::parts::Values;
use numerics::gls::Departure;
use record::Facing;
use record::plan::Plan;

/// Below this probability, a station stands out from the others.
pub(super) const STANDS_OUT: f64 = 0.02;
/// The share of a departure that each of two measurements must show alone to count as a departure of the wing.
const CONFIRMS: f64 = 0.5;
/// Stations kept in the fit for each one set apart, at least: with fewer, the others cannot say what is odd.
const OTHERS: usize = 3;

/// Two measurements of the points measured again, each taken alone.
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

/// The last two rounds of a point, or its first and last seating in one round.
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

/// Sets apart the stations that stand out in both measurements, the worst first.
pub(super) fn set_apart(profile: &mut ProfileFit, plan: &Plan, values: &Values, readings: &Readings<'_>) {
    let mut twice: Option<Twice> = None;
    let before = stood_out(profile, plan, values, readings);
    loop {
        let Some(curve) = &profile.curve else { return };
        let mut odd = departures(curve);
        odd.retain(|d| d.by.p < STANDS_OUT || before.contains(&d.station));
        if odd.is_empty() {
            return;
        }
        let twice = twice.get_or_insert_with(|| Twice::of(plan, readings));
        odd.sort_by(|a, b| b.by.t.abs().total_cmp(&a.by.t.abs()));
        let without = |i: usize| {
            let left: Vec<usize> = curve.fitted.iter().copied().filter(|other| *other != i).collect();
            let enough = left.len() >= OTHERS * (profile.stations.len() - left.len());
            let others = Curve::through(plan, &profile.stations, &profile.covariance, left)?;
            (enough && departs_twice(profile, &others, plan, twice, i)).then_some(others)
        };
        let Some(others) = odd.iter().find_map(|d| without(d.station)) else { return };
        profile.curve = Some(others);
    }
}

/// Stations that disagree with their own last round and stood out before it. The disagreement widens them, so the
/// last round alone may no longer show it, although both rounds show the same.
fn stood_out(profile: &ProfileFit, plan: &Plan, values: &Values, readings: &Readings<'_>) -> Vec<usize> {
    if !profile.rounds.differ() {
        return Vec::new();
    }
    let stood = |i: &usize| -> Option<usize> {
        let theirs = &profile.stations.get(*i)?.incidence.points;
        let (mut values, mut earlier) = (values.clone(), Vec::with_capacity(theirs.len()));
        for point in theirs {
            let mut freshness = (*readings.points.get(point)?).clone();
            freshness.used = freshness.earlier.pop()?;
            values.insert(point.clone(), measure(plan, point, &freshness.used)?);
            earlier.push((point, freshness));
        }
        let mut then = readings.clone();
        then.points.extend(earlier.iter().map(|(point, freshness)| (*point, freshness)));
        let curve = super::fit_all(plan, &values, &then)?.curve?;
        departures(&curve).iter().any(|d| d.station == *i && d.by.p < STANDS_OUT).then_some(*i)
    };
    profile.rounds.differing.iter().filter_map(stood).collect()
}

/// A station in the curve that the others can check, by its position in the list of measured ones.
pub(super) struct Departs {
    pub station: usize,
    pub by: Departure,
}

pub(super) fn departures(curve: &Curve) -> Vec<Departs> {
    let all = curve.fit.residuals.departures();
    curve.fitted.iter().zip(all).filter_map(|(i, by)| Some(Departs { station: *i, by: by? })).collect()
}

/// True where each of two measurements, taken alone, departs from the curve through the others as both together do; where they do
/// not agree, as the larger of the two does.
fn departs_twice(profile: &ProfileFit, others: &Curve, plan: &Plan, twice: &Twice, i: usize) -> bool {
    let Some(station) = profile.stations.get(i) else { return false };
    let Some(planned) = plan.stations.get(station.index) else { return false };
    let alone = |values| StationValue::of(plan, station.index, planned, values).map(|s| others.departure(&s));
    let (Some(first), Some(last)) = (alone(&twice.first), alone(&twice.last)) else { return false };
    let departure = match profile.rounds.differ() {
        true if first.abs() > last.abs() => first,
        true => last,
        false => others.departure(station),
    };
    [first, last].into_iter().all(|alone| alone / departure >= CONFIRMS)
}
