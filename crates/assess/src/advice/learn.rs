//! What earlier moves teach: the real influence of each support, from what it did when it was moved.
//!
//! The incidence that a mm at support s gives at relative place η is the geometric one plus
//! a_s (c0 (1 - η) + c1 η + c2 4 η (1 - η)), a_s the largest geometric influence of that support at a station. The c are
//! unknown: what ribs carry over, threads, springs. Before the first move they are 0 with standard uncertainties 0.1, 0.1
//! and 0.05; stiffness in torsion, which lets only a share of the twist put in arrive, is common to all supports and
//! moves their c together, with a standard uncertainty of 0.3 (all assumed, no source).
//! Each station's change between two rounds then corrects them by a rank-one update (Kalman's form of recursive least
//! squares, Bayesian linear regression), weighted by the uncertainty of the change; errors shared by a round and what a
//! hand left undone of a move are unknowns beside them, dropped afterwards.

use super::influence;
use super::observations::{Event, Observation};
use numerics::gls::deviation_row;
use record::plan::{Adjust, Plan, Support};

/// Unknowns of one support.
const SHAPES: usize = 3;
/// Standard uncertainties of the unknowns of each support before anything was learned.
const OWN: [f64; SHAPES] = [0.1, 0.1, 0.05];
/// Standard uncertainty of the share of the twist put in that arrives.
const TORSION: f64 = 0.3;
/// Standard uncertainty of a screw's move in turns: set by eye to a sixteenth either way (common practice, no source).
const HAND_TURNS: f64 = 0.036;
/// Standard uncertainty of a shim stack in mm (common practice, no source).
const HAND_SHIMS_MM: f64 = 0.01;
/// What the shape of the correction cannot follow, relative to the change a move makes.
const SHAPE_U: f64 = 0.03;
/// A round whose change lies this many standard uncertainties (root mean square) from what was expected teaches nothing.
const BELIEVABLE: f64 = 3.5;
/// What is kept of the knowledge when a stage changes the stiffness.
const KEPT: f64 = 0.5;

/// Influences as they are believed to be.
#[derive(Clone, Debug)]
pub struct Learned {
    /// Largest geometric influence of each support at a station, in degrees per mm.
    scale: Vec<f64>,
    mean: Vec<f64>,
    covariance: Vec<Vec<f64>>,
    /// Covariance before anything was learned.
    assumed: Vec<Vec<f64>>,
    /// Supports that some believable observation moved.
    pub seen: Vec<bool>,
    /// Observations that could not be believed, in words.
    pub doubted: Vec<String>,
}

impl Learned {
    /// What geometry says, with its uncertainty.
    #[must_use]
    pub fn prior(plan: &Plan) -> Self {
        let mut scale = vec![0.0_f64; plan.supports.len()];
        for station in &plan.stations {
            let row = influence::on_incidence(plan, station.span.value(), station.incidence.value());
            scale.iter_mut().zip(row).for_each(|(s, g)| *s = s.max(g.abs()));
        }
        let covariance = assumed(plan, &scale);
        Self {
            mean: vec![0.0; covariance.len()],
            assumed: covariance.clone(),
            covariance,
            seen: vec![false; scale.len()],
            scale,
            doubted: vec![],
        }
    }

    /// The prior corrected by everything that happened.
    #[must_use]
    pub fn from_events(plan: &Plan, events: &[Event]) -> Self {
        let mut learned = Self::prior(plan);
        for event in events {
            match event {
                Event::Stage => learned.forget(),
                Event::Observed(observation) => learned.observe(plan, observation),
            }
        }
        learned
    }

    /// Influence of every support of the plan on the incidence at a span, in degrees per mm.
    #[must_use]
    pub fn on_incidence(&self, plan: &Plan, span_mm: f64) -> Vec<f64> {
        let span = quantity::Millimetres::new(span_mm);
        let mut row = influence::on_incidence(plan, span_mm, plan.design_incidence(span).value());
        let shapes = shapes(plan.eta(span));
        for (s, g) in row.iter_mut().enumerate() {
            let own = &self.mean[SHAPES * s..SHAPES * (s + 1)];
            *g += self.scale[s] * shapes.iter().zip(own).map(|(b, c)| b * c).sum::<f64>();
        }
        row
    }

    /// The same as the difference between two spans, `to` less `from`.
    #[must_use]
    pub fn difference(&self, plan: &Plan, from_mm: f64, to_mm: f64) -> Vec<f64> {
        let (from, to) = (self.on_incidence(plan, from_mm), self.on_incidence(plan, to_mm));
        to.iter().zip(from).map(|(t, f)| t - f).collect()
    }

    /// Standard uncertainty of the influence of every support, in degrees per mm, on the incidence at a span, less that
    /// at another where one is given: its own part, since what is common to all supports does not tell one set of moves
    /// from another.
    #[must_use]
    pub fn own_u_per_mm(&self, plan: &Plan, span_mm: f64, less_mm: Option<f64>) -> Vec<f64> {
        let at = |mm: f64| shapes(plan.eta(quantity::Millimetres::new(mm)));
        let (here, less) = (at(span_mm), less_mm.map_or([0.0; SHAPES], at));
        let relative: f64 = (0..SHAPES).map(|k| OWN[k] * (here[k] - less[k])).map(|u| u * u).sum();
        self.scale.iter().map(|a| a * relative.sqrt()).collect()
    }

    /// Standard uncertainty in degrees of what moves (mm, one per support) do to the incidence at a span, less that at
    /// another where one is given: hand and stiffness together.
    #[must_use]
    pub fn u_of_moves(&self, plan: &Plan, span_mm: f64, less_mm: Option<f64>, moves_mm: &[f64]) -> f64 {
        let mut variance = quadratic(&self.covariance, &self.weights(plan, span_mm, less_mm, moves_mm));
        let influences = match less_mm {
            Some(less) => self.difference(plan, less, span_mm),
            None => self.on_incidence(plan, span_mm),
        };
        for ((support, x), g) in plan.supports.iter().zip(moves_mm).zip(influences) {
            if *x != 0.0 {
                variance +=
                    (g * hand_mm(support)) * (g * hand_mm(support)) + (SHAPE_U * g * x) * (SHAPE_U * g * x);
            }
        }
        variance.max(0.0).sqrt()
    }

    /// What the unknowns do to the incidence at a span, less that at another, when the supports move.
    fn weights(&self, plan: &Plan, span_mm: f64, less_mm: Option<f64>, moves_mm: &[f64]) -> Vec<f64> {
        let at = |mm: f64| shapes(plan.eta(quantity::Millimetres::new(mm)));
        let (here, less) = (at(span_mm), less_mm.map_or([0.0; SHAPES], at));
        let mut weights = vec![0.0; self.mean.len()];
        for (s, x) in moves_mm.iter().enumerate() {
            for k in 0..SHAPES {
                weights[SHAPES * s + k] = x * self.scale[s] * (here[k] - less[k]);
            }
        }
        weights
    }

    /// What a support does over what geometry says, its standard uncertainty, and whether it is the twist that is
    /// compared (else the setting). None for a support that does nothing to the incidence.
    #[must_use]
    pub fn factor(&self, plan: &Plan, support: usize) -> Option<(f64, f64, bool)> {
        let at = |span: quantity::Millimetres| {
            influence::on_incidence(plan, span.value(), plan.design_incidence(span).value())[support]
        };
        let (root, tip) = (at(plan.wing.root), at(plan.wing.tip));
        let scale = self.scale[support];
        let twists = (tip - root).abs() > 0.3 * scale;
        let (base, weights) = if twists { (tip - root, [-1.0, 1.0, 0.0]) } else { (root, [1.0, 0.0, 0.0]) };
        if base.abs() < 1e-9 {
            return None;
        }
        let mut all = vec![0.0; self.mean.len()];
        for (k, w) in weights.iter().enumerate() {
            all[SHAPES * support + k] = w * scale / base;
        }
        let shift: f64 = all.iter().zip(&self.mean).map(|(w, c)| w * c).sum();
        Some((1.0 + shift, quadratic(&self.covariance, &all).max(0.0).sqrt(), twists))
    }

    /// A stage changed the stiffness: what is believed stays, how firmly does not.
    fn forget(&mut self) {
        for (row, first) in self.covariance.iter_mut().zip(&self.assumed) {
            for (v, f) in row.iter_mut().zip(first) {
                *v = KEPT * *v + (1.0 - KEPT) * f;
            }
        }
    }

    /// Corrects the influences by what one set of moves did.
    fn observe(&mut self, plan: &Plan, observation: &Observation) {
        let own = self.mean.len();
        let extra = observation.shared.len() + observation.moves.len();
        let mut state = State::of(self, extra);
        let (mut square, mut count) = (0.0, 0.0);
        for (i, seen) in observation.stations.iter().enumerate() {
            let influences = self.on_incidence(plan, seen.span_mm);
            let basis = shapes(plan.eta(quantity::Millimetres::new(seen.span_mm)));
            let mut row = vec![0.0; own + extra];
            let (mut expected, mut size) = (0.0, 0.0);
            for (m, (s, x)) in observation.moves.iter().enumerate() {
                for (k, b) in basis.iter().enumerate() {
                    row[SHAPES * s + k] += x * self.scale[*s] * b;
                }
                row[own + observation.shared.len() + m] = influences[*s] * hand_mm(&plan.supports[*s]);
                expected += x * influences[*s];
                size += (x * influences[*s]).abs();
            }
            for (k, part) in observation.shared.iter().enumerate() {
                row[own + k] = part.get(i).copied().unwrap_or(0.0);
            }
            let variance = seen.own_deg * seen.own_deg + (SHAPE_U * size) * (SHAPE_U * size) + 1e-12;
            let innovation = state.update(&row, seen.change_deg - expected, variance);
            square += innovation * innovation;
            count += 1.0;
        }
        if square > BELIEVABLE * BELIEVABLE * count {
            let names: Vec<&str> =
                observation.moves.iter().map(|(s, _)| plan.supports[*s].name.as_str()).collect();
            self.doubted.push(format!(
                "what happened after moving {} does not look like that move: was it made as recorded, the right way round, \
                 and was nothing else moved? Nothing was learned from it",
                names.join(", ")
            ));
            return;
        }
        for (c, shift) in self.mean.iter_mut().zip(&state.mean) {
            *c += shift;
        }
        for (row, new) in self.covariance.iter_mut().zip(&state.covariance) {
            row.copy_from_slice(&new[..own]);
        }
        observation.moves.iter().for_each(|(s, _)| self.seen[*s] = true);
    }
}

/// Covariance of the unknowns before anything was learned.
fn assumed(plan: &Plan, scale: &[f64]) -> Vec<Vec<f64>> {
    let at = |eta: f64| {
        let span = plan.wing.root + (plan.wing.tip - plan.wing.root) * eta;
        influence::on_incidence(plan, span.value(), plan.design_incidence(span).value())
    };
    let (root, middle, tip) = (at(0.0), at(0.5), at(1.0));
    // Less twist arrives: every influence goes toward that at mid-span.
    let mut together = Vec::with_capacity(SHAPES * scale.len());
    for (s, a) in scale.iter().enumerate() {
        let relative = |g: f64| if *a > 0.0 { TORSION * g / a } else { 0.0 };
        together.extend([relative(root[s] - middle[s]), relative(tip[s] - middle[s]), 0.0]);
    }
    let mut covariance: Vec<Vec<f64>> =
        together.iter().map(|v| together.iter().map(|w| v * w).collect()).collect();
    for (i, row) in covariance.iter_mut().enumerate() {
        row[i] += OWN[i % SHAPES] * OWN[i % SHAPES];
    }
    covariance
}

/// The unknowns as they shift within one observation, the passing ones behind the lasting ones.
struct State {
    mean: Vec<f64>,
    covariance: Vec<Vec<f64>>,
}

impl State {
    fn of(learned: &Learned, extra: usize) -> Self {
        let size = learned.mean.len() + extra;
        let mut covariance = vec![vec![0.0; size]; size];
        for (row, known) in covariance.iter_mut().zip(&learned.covariance) {
            row[..known.len()].copy_from_slice(known);
        }
        for (i, row) in covariance.iter_mut().enumerate().skip(learned.mean.len()) {
            row[i] = 1.0;
        }
        Self { mean: vec![0.0; size], covariance }
    }

    /// Takes in `row · unknowns = value` with a variance of its own; the value's distance from what was expected, in its
    /// standard uncertainties.
    fn update(&mut self, row: &[f64], value: f64, variance: f64) -> f64 {
        let gain: Vec<f64> = self.covariance.iter().map(|c| dot(c, row)).collect();
        let total = dot(row, &gain) + variance;
        let residual = value - dot(row, &self.mean);
        for (m, g) in self.mean.iter_mut().zip(&gain) {
            *m += g * residual / total;
        }
        for (c, g) in self.covariance.iter_mut().zip(&gain) {
            for (v, h) in c.iter_mut().zip(&gain) {
                *v -= g * h / total;
            }
        }
        residual / total.sqrt()
    }
}

fn shapes(eta: f64) -> [f64; SHAPES] {
    let powers = deviation_row(2, eta);
    [powers[0] - powers[1], powers[1], 4.0 * (powers[1] - powers[2])]
}

/// Standard uncertainty of what a hand does at a support, in mm.
fn hand_mm(support: &Support) -> f64 {
    match &support.adjust {
        Adjust::Screw { per_turn, .. } => HAND_TURNS * per_turn.value().abs(),
        Adjust::Shims { .. } => HAND_SHIMS_MM,
        Adjust::Fixed => 0.0,
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

fn quadratic(matrix: &[Vec<f64>], weights: &[f64]) -> f64 {
    matrix.iter().zip(weights).map(|(row, w)| w * dot(row, weights)).sum()
}
