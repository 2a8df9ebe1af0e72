//! What is judged, as lines over the moves: each limit gives one ratio that grows toward 1 at the limit.

use super::belief::{Belief, Spread, Way};
use std::cell::OnceCell;

/// What a limit without another to measure it against is measured against at least, in degrees.
const LEAST_SCALE_DEG: f64 = 0.01;

/// Whether a value is to be brought nearer its design, or only kept from going outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// Bring it nearer.
    Aim,
    /// It must not go outside if it is not.
    Guard,
}

/// One limit of one value: its ratio is `now + slope · (value's change)`, 1 at the limit, above it outside.
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
    /// What it is there for.
    pub goal: Goal,
    /// What moves do to it.
    pub way: Way,
    covariance: OnceCell<Vec<Vec<f64>>>,
}

/// Lower and upper limit, each if there is one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bounds {
    pub lower: Option<f64>,
    pub upper: Option<f64>,
}

impl Target {
    /// A value against its limits; without limits it has no sides.
    #[must_use]
    pub fn new(what: &str, value: f64, u: f64, bounds: Bounds, goal: Goal, way: Way) -> Self {
        let covariance = OnceCell::new();
        Self { what: what.to_owned(), value, u, sides: sides(value, bounds), goal, way, covariance }
    }

    /// Largest ratio now.
    #[must_use]
    pub fn now(&self) -> f64 {
        self.sides.iter().map(|s| s.now).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Largest change of a ratio per degree.
    #[must_use]
    pub fn steepest(&self) -> f64 {
        self.sides.iter().map(|s| s.slope.abs()).fold(0.0, f64::max)
    }

    /// True if it is outside as measured.
    #[must_use]
    pub fn is_out(&self) -> bool {
        self.now() > 1.0
    }

    /// Change of the value by moves, in degrees, as expected.
    #[must_use]
    pub fn change(&self, moves_mm: &[f64]) -> f64 {
        self.way.per_mm.iter().zip(moves_mm).map(|(a, x)| a * x).sum()
    }

    /// Largest ratio after moves, as expected.
    #[must_use]
    pub fn after(&self, moves_mm: &[f64]) -> f64 {
        self.reckoned(self.change(moves_mm), 0.0)
    }

    /// Largest ratio after moves that must be reckoned with: one standard uncertainty of what they do to the worse.
    #[must_use]
    pub fn at_worst(&self, moves_mm: &[f64], spread: &Spread) -> f64 {
        self.reckoned(self.change(moves_mm), spread.u(&self.way))
    }

    /// Largest ratio after a change of the value of which `u` is uncertain.
    #[must_use]
    pub fn reckoned(&self, change: f64, u: f64) -> f64 {
        let of = |s: &Side| s.now + s.slope * change + s.slope.abs() * u;
        self.sides.iter().map(of).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Covariance of what a mm at each support does to it.
    #[must_use]
    pub fn covariance(&self, belief: &Belief) -> &Vec<Vec<f64>> {
        self.covariance.get_or_init(|| belief.covariance_of(&self.way))
    }
}

/// Limits either side of zero measure their own side; limits on one side of zero are measured from their middle; a
/// single limit from zero, or by its size where zero is already past it.
fn sides(v: f64, bounds: Bounds) -> Vec<Side> {
    let side = |now: f64, slope: f64| Side { now, slope };
    match (bounds.lower, bounds.upper) {
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
