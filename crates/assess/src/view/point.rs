//! A point of the plan and what is known about it.

use super::judged::base_unit;
use super::{JudgedBy, ShownReading, Verdict};
use quantity::Kind;
use record::{Facing, Point};
use serde::Serialize;

/// Whether there is a usable reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum PointState {
    /// Measured, nothing disturbed since.
    Fresh,
    /// Measured, disturbed since.
    Stale,
    /// Never measured, or all readings withdrawn.
    Missing,
}

/// A point of the plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PointView {
    /// What and where (`incidence@S4`).
    pub point: Point,
    /// True if the stage judged requires it.
    pub required: bool,
    /// Whether there is a usable reading.
    pub state: PointState,
    /// The quantity; its base unit in JSON (`deg`, `mm`, `N·m` or `°C`).
    #[serde(serialize_with = "base_unit")]
    pub unit: Kind,
    /// Its design value, if the plan has one.
    pub design: Option<f64>,
    /// The value, corrected for facing, reversal, fixture and temperature.
    pub value: Option<f64>,
    /// Its standard uncertainty, the shared part included.
    pub u: Option<f64>,
    /// The part that other points do not share.
    pub u_own: Option<f64>,
    /// The part it shares with the other readings of the round.
    pub u_shared: Option<f64>,
    /// Lower limit of the value itself, if it has one.
    pub lower: Option<f64>,
    /// Upper limit of the value itself.
    pub upper: Option<f64>,
    /// The verdict that applies to it; `None` without a tolerance.
    pub verdict: Option<Verdict>,
    /// What gave the verdict (`its own limits`, `station S4`, `straightness of front`).
    pub judged_by: Option<JudgedBy>,
    /// Probability of conformity.
    pub probability: Option<f64>,
    /// What would decide it.
    pub decide: Option<String>,
    /// The instrument of the readings used.
    pub instrument: Option<String>,
    /// The round of the readings used.
    pub round: Option<u32>,
    /// How many readings were averaged.
    pub readings: usize,
    /// Whether it is a reversal pair.
    pub reversed: bool,
    /// For a point that reverses: the facing still missing for a pair.
    pub facing_wanted: Option<Facing>,
    /// When the last of them was taken, ISO 8601 UTC.
    pub at: Option<String>,
    /// By whom.
    pub by: Option<String>,
    /// Why it is stale.
    pub stale_because: Option<String>,
    /// Numbers of the entries used.
    pub entries: Vec<u64>,
    /// When the last of them was taken, as its writer's clock showed it.
    pub when: Option<String>,
    /// The readings used, as the instrument showed them.
    pub behind: Vec<ShownReading>,
}
