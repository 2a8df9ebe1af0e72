//! A series as a value, for the terminal and JSON.
//!
//! Field names are a contract (`"format": 1`): fields may be added, never renamed or dropped. Values without a suffix
//! are in the `unit` beside them; changes and instrument values are in degrees.

use super::creep::Moved;
use super::stiffness::Stiffness;
use super::wing::NotCountedWhy;
use super::zeros::FoundKind;
use crate::view::{ObligationKind, Verdict, as_said, base_unit, of_obligation};
use quantity::Kind;
use record::GateState;
use serde::Serialize;
use std::collections::BTreeMap;

/// What many wings of one kind teach.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Series {
    /// Version of this form: 1.
    pub format: u32,
    /// The name of the first wing; `None` if no log counts.
    pub wing: Option<String>,
    /// The stage at whose end every wing is taken; `None` for plans without stages.
    pub stage: Option<String>,
    /// What makes this kind of wing, key by key.
    pub geometry: BTreeMap<String, String>,
    /// The supports of the first wing's jig.
    pub jig: BTreeMap<String, String>,
    /// The wings that count, in the order in which they were finished.
    pub wings: Vec<WingRow>,
    /// The logs that do not, and why.
    pub not_counted: Vec<NotCounted>,
    /// Every figure over the wings, in the order of the board and along the wing.
    pub figures: Vec<FigureRow>,
    /// What no wing has a value for.
    pub unmeasured: Vec<Unmeasured>,
    /// What each stage does to the twist.
    pub creeps: Vec<Creep>,
    /// What the instruments showed.
    pub instruments: Vec<DriftRow>,
    /// The effect of moves; `None` if no log has a move with the twist measured before and after it.
    pub stiffness: Option<Stiffness>,
    /// What a person should know before using this.
    pub remarks: Vec<String>,
}

/// A wing that is counted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct WingRow {
    pub log: String,
    /// Its name in its plan.
    pub wing: String,
    /// When the last entry that counts was written, ISO 8601 UTC.
    pub at: String,
    /// How many entries count.
    pub entries: u64,
    /// The state of its gate then.
    pub gate: GateState,
}

/// A log that is not counted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NotCounted {
    pub log: String,
    /// A sentence in JSON.
    #[serde(serialize_with = "as_said")]
    pub why: NotCountedWhy,
}

/// A figure over the wings.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FigureRow {
    /// What sort of thing it proves.
    pub kind: ObligationKind,
    /// The plan's name for it; for a step, both stations.
    pub about: String,
    /// The quantity; its base unit in JSON.
    #[serde(serialize_with = "base_unit")]
    pub unit: Kind,
    /// Wings with a value that counts.
    pub n: usize,
    /// Their mean.
    pub mean: f64,
    /// Half the width of its 95 % interval, from the spread over the wings; for one wing, or if all are equal, from
    /// the readings.
    pub half95: f64,
    /// Standard deviation over the wings; `None` for one.
    pub sd: Option<f64>,
    /// Smallest value.
    pub least: f64,
    /// Largest value.
    pub most: f64,
    /// The measurement's contribution to the spread: root mean square of the standard uncertainties.
    pub u: f64,
    /// Lower limit of the plan, if all plans have the same limits.
    pub lower: Option<f64>,
    /// Upper limit of the plan, if all plans have the same limits.
    pub upper: Option<f64>,
    /// How many wings were within, undecided, outside.
    pub states: States,
    /// Control limits; `None` for fewer than three wings.
    pub chart: Option<Chart>,
    /// Trend over the wings in order; `None` for fewer than three.
    pub trend: Option<LikelyTrend>,
    /// Wings outside the control limits.
    pub outliers: Vec<Outlier>,
    /// Wings without a value that counts.
    pub lacking: Vec<LackingAt>,
}

/// Verdicts over the wings; values without a tolerance are in none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct States {
    pub within: usize,
    pub undecided: usize,
    pub outside: usize,
}

/// Control limits of individuals and moving ranges (NIST/SEMATECH e-Handbook 6.3.2.2). They say what the wings do,
/// and are not tolerances.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Chart {
    /// Lower control limit.
    pub lower: f64,
    /// Upper control limit.
    pub upper: f64,
    /// Mean step from wing to wing.
    pub moving_range: f64,
    /// Upper control limit of a step.
    pub range_upper: f64,
    /// Whether there are fewer than twenty wings, so that the limits still move (common practice, no source).
    pub provisional: bool,
}

/// A trend from wing to wing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LikelyTrend {
    /// Change from one wing to the next, in the unit.
    pub per_wing: f64,
    /// Its standard error.
    pub u: f64,
    /// Probability that wings without a trend show this much.
    pub p: f64,
    /// Whether it is more than chance, shared over all figures.
    pub real: bool,
}

/// A wing outside the control limits.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outlier {
    pub log: String,
    pub value: f64,
    /// Whether the step from the previous wing is too large, and not the value itself.
    pub step: bool,
}

/// A wing without a value that counts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LackingAt {
    pub log: String,
    /// Why, as one word.
    #[serde(serialize_with = "of_obligation")]
    pub state: Verdict,
    /// Why, in the words of its obligation.
    pub words: String,
}

/// Something that no wing has a value for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Unmeasured {
    /// What sort of thing.
    pub kind: ObligationKind,
    /// The plan's name for it.
    pub about: String,
}

/// What a stage does to the twist, over the wings. Sorted: more than chance first, then by size.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Creep {
    /// The stage; several joined by ` + ` if the twist was not measured between them.
    pub during: String,
    /// What changes; a station is taken relative to the middle one of its wing, so that one rib does not move the
    /// others.
    #[serde(flatten)]
    pub what: Moved,
    /// Wings that show it.
    pub n: usize,
    /// Mean change, after less before.
    pub mean_deg: f64,
    /// Half the width of its 95 % interval.
    pub half95_deg: f64,
    /// Standard deviation over the wings; `None` for one.
    pub sd_deg: Option<f64>,
    /// Root mean square of the standard uncertainties.
    pub u_deg: f64,
    /// Wings that went in the direction of the mean.
    pub same_way: usize,
    /// Probability that a stage without effect shows this much; `None` for one wing.
    pub p: Option<f64>,
    /// Whether it is more than chance, shared over all changes.
    pub real: bool,
}

/// What an instrument showed over the wings, in time order.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DriftRow {
    /// Its name.
    pub instrument: String,
    pub number: Option<String>,
    /// What was found.
    pub found: FoundKind,
    /// How often.
    pub n: usize,
    pub mean_deg: f64,
    /// Standard deviation; `None` for one.
    pub sd_deg: Option<f64>,
    pub first: FoundAt,
    pub last: FoundAt,
    /// Control limits; `None` for fewer than three.
    pub chart: Option<Chart>,
    /// Trend in degrees per 100 days; `None` for fewer than three, or if all are on one day.
    pub per_100_days: Option<LikelyTrend>,
    /// Logs in which it was outside its control limits.
    pub outliers: Vec<Outlier>,
    pub failed: Vec<FailedCheck>,
    /// Whether a trend is more than chance, a value is outside the control limits, or a check failed.
    pub drifted: bool,
}

/// A value of an instrument with its time.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FoundAt {
    /// When, ISO 8601 UTC.
    pub at: String,
    pub log: String,
    pub value_deg: f64,
    /// Its standard uncertainty.
    pub u_deg: f64,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FailedCheck {
    pub log: String,
    pub entry: u64,
}
