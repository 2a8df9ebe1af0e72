//! Learns from earlier moves, by Gauss-Newton on the unknowns of [`super::belief`].
//!
//! Each station's change between two rounds is one scalar update of the unknowns (Kalman's form of recursive least
//! squares), linearised again in every pass. Errors shared by a round, and the difference between a move as made and
//! as recorded, are temporary unknowns.

use super::belief::{Belief, Way};
use super::field::Place;
use super::observed::{Event, Observation, Turned};
use super::prior::Prior;
use super::steps;
use numerics::dot;
use record::plan::Plan;

/// What the model cannot follow, relative to what the moves do at a station.
const MODEL_U: f64 = 0.05;
/// A round whose change is this many standard uncertainties (root mean square) from the expected change teaches
/// nothing.
const BELIEVABLE: f64 = 3.5;
/// Number of linearisation passes.
const PASSES: usize = 4;
/// The most stations of a round that are used; with more, this many evenly along the span.
const MOST_PLACES: usize = 256;

/// What was learned, and what was not believable.
#[derive(Clone, Debug)]
pub struct Learned {
    /// What is believed now.
    pub belief: Belief,
    /// Supports of the plan that a believable observation moved.
    pub seen: Vec<bool>,
    /// Supports of observations that were not believable.
    pub doubted: Vec<Vec<String>>,
}

impl Learned {
    /// The prior belief corrected by everything that happened.
    pub fn from_prior(plan: &Plan, prior: &Prior, events: &[Event]) -> Self {
        let (belief, seen) = (Belief::from_prior(plan, prior), vec![false; plan.supports.len()]);
        let mut learned = Self { belief, seen, doubted: vec![] };
        for event in events {
            match event {
                Event::Stage => learned.belief.forget(),
                Event::Observed(observation) => learned.observe(plan, observation),
            }
        }
        learned
    }

    /// Corrects the unknowns by the effect of one set of moves.
    pub fn observe(&mut self, plan: &Plan, observation: &Observation) {
        let field = &self.belief.field;
        let at = |s: usize| field.supports.iter().position(|x| *x == s);
        let moves: Vec<(usize, &Turned)> =
            observation.moves.iter().filter_map(|t| Some((at(t.support)?, t))).collect();
        if moves.is_empty() {
            return;
        }
        let mut asked = vec![0.0; field.supports.len()];
        moves.iter().for_each(|(s, t)| asked[*s] += t.mm);
        let chosen = evenly(observation.stations.len(), MOST_PLACES);
        let spans: Vec<f64> = chosen.iter().map(|i| observation.stations[*i].span_mm).collect();
        let places: Vec<Place> = field.places(plan, &spans);
        let mut at = self.belief.clone();
        for pass in 0..PASSES {
            let mut state = State::of(&self.belief, observation.shared.len() + moves.len());
            let (mut square, mut count) = (0.0, 0.0);
            for (place, &i) in places.iter().zip(&chosen) {
                let way = at.way(place);
                let seen = &observation.stations[i];
                let expected = dot(&way.per_mm, &asked);
                let size: f64 = way.per_mm.iter().zip(&asked).map(|(g, x)| (g * x).abs()).sum();
                let mut row = at.derivatives(&way, &asked);
                let shift = dot(&row, &at.mean);
                row.extend(observation.shared.iter().map(|part| part.get(i).copied().unwrap_or(0.0)));
                row.extend(moves.iter().map(|(s, t)| way.per_mm[*s] * t.u_mm));
                let variance = seen.own_deg * seen.own_deg + (MODEL_U * size) * (MODEL_U * size) + 1e-12;
                let innovation = state.update(&row, seen.change_deg - expected + shift, variance);
                square += innovation * innovation;
                count += 1.0;
            }
            if pass == 0 && square > BELIEVABLE * BELIEVABLE * count {
                let name = |(_, t): &(usize, &Turned)| plan.supports[t.support].name.clone();
                self.doubted.push(moves.iter().map(name).collect());
                return;
            }
            let own = at.mean.len();
            at.mean.copy_from_slice(&state.mean[..own]);
            if pass + 1 == PASSES {
                at.covariance = state.covariance.into_iter().take(own).map(|r| r[..own].to_vec()).collect();
            }
        }
        self.belief = at;
        moves.iter().for_each(|(_, t)| self.seen[t.support] = true);
    }

    /// Standard uncertainty at a place, in degrees, from setting moves by hand (mm, one per support of the field).
    pub fn hand_u(&self, plan: &Plan, way: &Way, moves_mm: &[f64]) -> f64 {
        let of = |((s, x), g): ((&usize, &f64), &f64)| {
            if *x == 0.0 { 0.0 } else { (g * steps::hand_mm(&plan.supports[*s])).powi(2) }
        };
        self.belief.field.supports.iter().zip(moves_mm).zip(&way.per_mm).map(of).sum::<f64>().sqrt()
    }
}

/// At most `most` of `count` positions in a list, evenly spaced.
pub(crate) fn evenly(count: usize, most: usize) -> Vec<usize> {
    let taken = count.min(most);
    match taken {
        0 | 1 => (0..taken).collect(),
        _ => (0..taken).map(|k| k * (count - 1) / (taken - 1)).collect(),
    }
}

/// The unknowns during one pass; the temporary ones come after the lasting ones.
struct State {
    mean: Vec<f64>,
    covariance: Vec<Vec<f64>>,
}

impl State {
    fn of(belief: &Belief, extra: usize) -> Self {
        let own = belief.mean.len();
        let mut mean = belief.mean.clone();
        mean.resize(own + extra, 0.0);
        let mut covariance = vec![vec![0.0; own + extra]; own + extra];
        for (row, known) in covariance.iter_mut().zip(&belief.covariance) {
            row[..own].copy_from_slice(known);
        }
        for (i, row) in covariance.iter_mut().enumerate().skip(own) {
            row[i] = 1.0;
        }
        Self { mean, covariance }
    }

    /// Takes in `row · unknowns = value` with its own variance; returns the value's distance from the expected one,
    /// in standard uncertainties.
    fn update(&mut self, row: &[f64], value: f64, variance: f64) -> f64 {
        let gain: Vec<f64> = self.covariance.iter().map(|c| dot(c, row)).collect();
        let total = dot(row, &gain) + variance;
        let residual = value - dot(row, &self.mean);
        for (m, g) in self.mean.iter_mut().zip(&gain) {
            *m += g * residual / total;
        }
        for (c, g) in self.covariance.iter_mut().zip(&gain).filter(|(_, g)| **g != 0.0) {
            let factor = g / total;
            c.iter_mut().zip(&gain).for_each(|(v, h)| *v -= factor * h);
        }
        residual / total.sqrt()
    }
}
