//! Limits as lines over the moves: each limit has a ratio that grows to 1 at the limit.

use super::belief::{Belief, Spread, Way};
use numerics::dot;
use record::Limits;
use std::cell::OnceCell;

/// Smallest scale for a limit that has no other limit to compare with, in degrees.
const LEAST_SCALE_DEG: f64 = 0.01;

/// Whether to bring a value nearer its design, or only to keep it from going outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// Bring it nearer.
    Aim,
    /// Keep it from going outside if it is not outside yet.
    Guard,
}

/// One limit of one value: its ratio is `now + slope · (value's change)`; 1 is the limit, more is outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// Ratio now.
    pub now: f64,
    /// Ratio per degree.
    pub slope: f64,
}

/// A value with limits, and what a mm at each support does to it.
#[derive(Clone, Debug)]
pub struct Target {
    /// What is judged (`S4`, `setting`).
    pub what: String,
    /// The value now, in degrees.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Its limits as ratios.
    pub sides: Vec<Side>,
    /// Its purpose.
    pub goal: Goal,
    /// The effect of moves on it.
    pub way: Way,
    covariance: OnceCell<Vec<Vec<f64>>>,
}

impl Target {
    /// A value with its limits; without limits it has no sides.
    pub fn new(what: &str, value: f64, u: f64, limits: Limits<f64>, goal: Goal, way: Way) -> Self {
        let covariance = OnceCell::new();
        Self { what: what.to_owned(), value, u, sides: sides(value, limits), goal, way, covariance }
    }

    /// Largest ratio now.
    pub fn now(&self) -> f64 {
        self.sides.iter().map(|s| s.now).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Largest change of a ratio per degree.
    pub fn steepest(&self) -> f64 {
        self.sides.iter().map(|s| s.slope.abs()).fold(0.0, f64::max)
    }

    /// Whether it is outside as measured.
    pub fn is_out(&self) -> bool {
        self.now() > 1.0
    }

    /// Expected change of the value by moves, in degrees.
    pub fn change(&self, moves_mm: &[f64]) -> f64 {
        dot(&self.way.per_mm, moves_mm)
    }

    /// Expected largest ratio after moves.
    pub fn after(&self, moves_mm: &[f64]) -> f64 {
        self.reckoned(self.change(moves_mm), 0.0)
    }

    /// Largest ratio to reckon with after moves: expected, plus one standard uncertainty of their effect in the bad
    /// direction.
    pub fn at_worst(&self, moves_mm: &[f64], spread: &Spread) -> f64 {
        self.reckoned(self.change(moves_mm), spread.u(&self.way))
    }

    /// Largest ratio after a change of the value with uncertainty `u`.
    pub fn reckoned(&self, change: f64, u: f64) -> f64 {
        let of = |s: &Side| s.now + s.slope * change + s.slope.abs() * u;
        self.sides.iter().map(of).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Covariance of the effects of a mm at each support on it.
    pub fn covariance(&self, belief: &Belief) -> &Vec<Vec<f64>> {
        self.covariance.get_or_init(|| belief.covariance_of(&self.way))
    }
}

/// Limits on both sides of zero each scale their own side. Limits on one side of zero are scaled from their middle. A
/// single limit is scaled from zero, or by its size if zero is already past it.
fn sides(v: f64, limits: Limits<f64>) -> Vec<Side> {
    let side = |now: f64, slope: f64| Side { now, slope };
    match (limits.lower, limits.upper) {
        (Some(l), Some(u)) if l < 0.0 && u > 0.0 => vec![side(v / u, 1.0 / u), side(v / l, 1.0 / l)],
        (Some(l), Some(u)) => {
            let (middle, half) = (f64::midpoint(l, u), ((u - l) / 2.0).max(LEAST_SCALE_DEG));
            vec![side((v - middle) / half, 1.0 / half), side((middle - v) / half, -1.0 / half)]
        }
        (None, Some(u)) => {
            let scale = u.abs().max(LEAST_SCALE_DEG);
            vec![side(1.0 + (v - u) / scale, 1.0 / scale)]
        }
        (Some(l), None) => {
            let scale = l.abs().max(LEAST_SCALE_DEG);
            vec![side(1.0 + (l - v) / scale, -1.0 / scale)]
        }
        (None, None) => vec![],
    }
}
