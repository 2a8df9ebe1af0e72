//! The rounds of one undisturbed stage: combined if they agree.

use super::Readings;
use super::value::StationValue;
use crate::estimate::{Estimate, Shared, measure};
use crate::history::{Freshness, Used};
use crate::incidence::{self, Incidence};
use crate::parts::Values;
use numerics::repeats::Agreement;
use numerics::rounds::{Agreements, Value, WALK, Zero, agreements, together};
use record::Point;
use record::plan::Plan;
use std::collections::BTreeMap;

/// Below this probability, rounds do not agree.
const DIFFER: f64 = 0.05;
/// The most recent rounds of a station that are combined, at most.
const MOST: usize = 20;
/// Standard uncertainty, in degrees, of a roll of the whole wing between two rounds that disagree: larger than any
/// real roll.
const FREE_DEG: f64 = 10.0;

/// How the rounds compare.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rounds {
    /// The most rounds in which any station was measured.
    pub measured: usize,
    /// The most rounds of any station that count.
    pub counted: usize,
    /// Stations against each other, over the rounds that count, or over the last two if none agree.
    pub stations: Agreement,
    /// The wing as a whole from round to round.
    pub wholes: Agreement,
    /// Measured stations, by position in the list, that differ most between the rounds.
    pub differing: Vec<usize>,
    /// Whether every zero was removed by a reversal pair.
    pub reversed: bool,
}

impl Rounds {
    /// Whether the stations differ between the rounds, so that only the last counts.
    pub fn differ(&self) -> bool {
        self.counted == 1 && self.measured > 1
    }

    /// Whether the wing as a whole differs between the rounds that count.
    pub fn moved(&self) -> bool {
        !self.differ() && self.wholes.p() < DIFFER
    }
}

/// One round of one station.
struct Walked {
    station: usize,
    round: Key,
    incidence: Incidence,
}

/// A round: its number, and the instrument in it.
type Key = (u32, Option<String>);

/// Combines the rounds of the stations; this changes their deviation and its uncertainty.
pub(super) fn put_together(plan: &Plan, readings: &Readings<'_>, stations: &mut [StationValue]) -> Rounds {
    let mut rounds = Rounds {
        measured: usize::from(!stations.is_empty()),
        counted: usize::from(!stations.is_empty()),
        reversed: stations.iter().all(|s| s.incidence.reversed),
        ..Rounds::default()
    };
    if !readings.again() {
        return rounds;
    }
    let points = &readings.points;
    let walked: Vec<Vec<Walked>> =
        stations.iter().enumerate().map(|(i, s)| rounds_of(plan, points, i, s)).collect();
    rounds.measured = walked.iter().map(Vec::len).max().unwrap_or(1);
    rounds.reversed = walked.iter().flatten().all(|w| w.incidence.reversed);
    let mut excess = vec![1.0; stations.len()];
    for counted in (1..=rounds.measured).rev() {
        let values = Numbered::of(plan, stations, &walked, counted);
        if counted > 1 {
            let found = agreements(stations.len(), &values.all);
            rounds.stations = found.stations;
            rounds.wholes = found.wholes;
            if found.stations.p() < DIFFER {
                rounds.differing = differing(&found);
                excess = excesses(&found, &rounds.differing);
                continue;
            }
        }
        rounds.counted = counted;
        if counted > 1 {
            excess.fill(1.0);
        }
        let moved = counted > 1 && rounds.wholes.p() < DIFFER;
        values.apply(stations, moved, &excess);
        break;
    }
    rounds
}

/// The rounds of one station, oldest first. If its points were not all measured in each, only the last value.
fn rounds_of(
    plan: &Plan,
    points: &BTreeMap<&Point, &Freshness>,
    i: usize,
    station: &StationValue,
) -> Vec<Walked> {
    let sources = &station.incidence.points;
    let of_point = |point: &Point| -> Vec<(Key, &[Used])> {
        let Some(f) = points.get(point) else { return Vec::new() };
        let all = f.earlier.iter().chain([&f.used]);
        all.filter_map(|used| Some((key(used)?, used.as_slice()))).collect()
    };
    let all: Vec<Vec<(Key, &[Used])>> = sources.iter().map(of_point).collect();
    let keys = |rounds: &Vec<(Key, &[Used])>| -> Vec<Key> { rounds.iter().map(|r| r.0.clone()).collect() };
    let last = || {
        let round = all.iter().filter_map(|r| r.last()).map(|r| r.0.clone()).max().unwrap_or((0, None));
        vec![Walked { station: i, round, incidence: station.incidence.clone() }]
    };
    let Some(first) = all.first().map(keys) else { return last() };
    if first.len() < 2 || all.iter().any(|r| keys(r) != first) {
        return last();
    }
    let Some(planned) = plan.stations.get(station.index) else { return last() };
    let from = first.len().saturating_sub(MOST);
    let mut out = Vec::with_capacity(first.len() - from);
    for (k, round) in first.into_iter().enumerate().skip(from) {
        let measured: Values = sources
            .iter()
            .zip(&all)
            .filter_map(|(point, rounds)| Some((point.clone(), measure(plan, point, rounds.get(k)?.1)?)))
            .collect();
        match incidence::of_station(plan, planned, &measured) {
            Some(incidence) => out.push(Walked { station: i, round, incidence }),
            // A round without a value proves nothing together with others.
            None => return last(),
        }
    }
    out
}

fn key(used: &[Used]) -> Option<Key> {
    let last = used.last()?;
    Some((last.reading.round, last.reading.instrument.clone()))
}

/// How much larger the variance of each station is than its readings claim: where some stations differ most, from
/// their own disagreement, with the rest for the others; otherwise the same for all.
fn excesses(found: &Agreements, differing: &[usize]) -> Vec<f64> {
    let mut theirs = Agreement::default();
    differing.iter().for_each(|i| theirs.join(found.by_station[*i]));
    let mut rest = found.stations;
    rest.chi2 = (rest.chi2 - theirs.chi2).max(0.0);
    rest.dof = rest.dof.saturating_sub(theirs.dof);
    let odd = odd(found);
    (0..found.by_station.len())
        .map(|i| match (odd.is_empty(), differing.contains(&i)) {
            (true, _) => found.stations.excess(),
            (false, true) => found.by_station[i].excess(),
            (false, false) => rest.excess(),
        })
        .collect()
}

/// The stations that differ most, if some stand out.
fn odd(found: &Agreements) -> Vec<usize> {
    let share = DIFFER / found.by_station.iter().filter(|s| s.dof > 0).count().max(1) as f64;
    (0..found.by_station.len()).filter(|i| found.by_station[*i].p() < share).collect()
}

/// The stations in disagreement: those that stand out, or all that were measured again.
fn differing(found: &Agreements) -> Vec<usize> {
    let odd = odd(found);
    if !odd.is_empty() {
        return odd;
    }
    (0..found.by_station.len()).filter(|i| found.by_station[*i].dof > 0).collect()
}

/// The readings with rounds and zeros numbered.
struct Numbered {
    all: Vec<Value>,
    first_round: u32,
    rounds: usize,
}

impl Numbered {
    /// The last rounds of each station, at most `counted`.
    fn of(plan: &Plan, stations: &[StationValue], walked: &[Vec<Walked>], counted: usize) -> Self {
        let chosen = || walked.iter().flat_map(|w| &w[w.len().saturating_sub(counted)..]);
        let keys = in_order(chosen().map(|w| &w.round));
        let zeros = in_order(chosen().flat_map(|w| zeros(&w.incidence.estimate)).map(|z| z.0));
        let place = |key: &Key| keys.binary_search(&key).unwrap_or(0);
        let value = |w: &Walked| {
            let design = stations
                .get(w.station)
                .and_then(|s| plan.stations.get(s.index))
                .map_or(0.0, |s| s.incidence.value());
            let estimate = &w.incidence.estimate;
            let mut own = estimate.own * estimate.own;
            let mut zero = None;
            for (error, per_u) in zeros_by_size(estimate) {
                match zero {
                    None => {
                        zero = zeros.binary_search(&error).ok().map(|which| Zero { which, per_u });
                    }
                    // Two instruments in one value: the smaller zero counts as independent.
                    Some(_) => own += per_u * per_u,
                }
            }
            Value {
                station: w.station,
                round: place(&w.round),
                value: estimate.value - design,
                own: libm::sqrt(own),
                lasting: estimate.lasting,
                zero,
            }
        };
        Self {
            all: chosen().map(value).collect(),
            first_round: keys.first().map_or(0, |k| k.0),
            rounds: keys.len(),
        }
    }

    /// `moved`: every round before the last walk is free to be higher or lower as a whole.
    fn apply(mut self, stations: &mut [StationValue], moved: bool, excess: &[f64]) {
        if moved {
            let zeros = self.all.iter().filter_map(|v| v.zero).map(|z| z.which + 1).max().unwrap_or(0);
            let size = |round: usize| self.all.iter().filter(|v| v.round == round).count();
            let last = (0..self.rounds).rev().find(|r| size(*r) >= WALK).unwrap_or(0);
            for v in self.all.iter_mut().filter(|v| v.round < last) {
                v.zero = Some(Zero { which: zeros + v.round, per_u: FREE_DEG });
            }
        }
        let all = together(stations.len(), &self.all);
        for (i, station) in stations.iter_mut().enumerate() {
            let estimate = &mut station.incidence.estimate;
            let change = all.values[i] - station.deviation;
            station.deviation = all.values[i];
            estimate.value += change;
            estimate.own = all.own[i] * libm::sqrt(excess[i]);
            estimate.shared.retain(|error, _| !matches!(error, Shared::Zero(..)));
            for (part, shared) in all.shared.iter().enumerate() {
                if shared[i] != 0.0 {
                    estimate.shared.insert(Shared::Zeros(self.first_round, part), shared[i]);
                }
            }
        }
    }
}

/// Each of them once, in order.
fn in_order<'k, K: Ord>(all: impl Iterator<Item = &'k K>) -> Vec<&'k K> {
    let mut all: Vec<&K> = all.collect();
    all.sort_unstable();
    all.dedup();
    all
}

fn zeros(estimate: &Estimate) -> impl Iterator<Item = (&Shared, f64)> {
    estimate.shared.iter().filter(|(e, c)| matches!(e, Shared::Zero(..)) && **c != 0.0).map(|(e, c)| (e, *c))
}

fn zeros_by_size(estimate: &Estimate) -> Vec<(&Shared, f64)> {
    let mut all: Vec<(&Shared, f64)> = zeros(estimate).collect();
    all.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    all
}
