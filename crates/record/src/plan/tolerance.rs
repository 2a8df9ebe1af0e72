//! Tolerances and the decision rule.

use crate::Limits;
use quantity::{Degrees, Millimetres};
use serde::{Deserialize, Serialize};

/// The tolerances; a value without one gets no verdict.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tolerances {
    /// How the whole wing sits in the jig: the rigid part of the deviation.
    pub setting: Option<Limits<Degrees>>,
    /// Twist error at the tip datum.
    pub washout: Option<Limits<Degrees>>,
    /// Twist error at each station.
    pub station: Option<Limits<Degrees>>,
    /// Change of the measured deviation from one station to the next.
    pub neighbour: Option<Limits<Degrees>>,
    /// Difference of the twist error, left less right.
    pub left_right: Option<Limits<Degrees>>,
    /// Largest minimum-zone straightness of a spar.
    pub straightness: Option<Millimetres>,
    /// Tilt of posts along the span.
    pub level: Option<Limits<Degrees>>,
    /// Tilt of posts fore and aft.
    pub cross: Option<Limits<Degrees>>,
    /// Angle out of square of a bay.
    pub square: Option<Limits<Degrees>>,
    /// Deviation of a station's distance from the root datum.
    pub spacing: Option<Limits<Millimetres>>,
}

quantity::words_in_json! {
    /// When a value with uncertainty is accepted.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum Acceptance {
        /// Conformity must be proven at the level (guard bands, ISO 14253-1).
        Guarded = "guarded",
        /// Only the value counts, not its uncertainty.
        Simple = "simple",
    }
}

/// How verdicts are reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Guarded or simple.
    pub acceptance: Acceptance,
    /// The probability of conformity required: 0.95, 0.975 or 0.99.
    pub level: f64,
    /// A cap on the order of the twist curve, below what the number of stations gives; printed beside the result.
    pub max_order: Option<usize>,
}

impl Default for Rule {
    fn default() -> Self {
        Self { acceptance: Acceptance::Guarded, level: 0.95, max_order: None }
    }
}
