//! Two stages of one wing, or left and right, side by side.

use super::judged::base_unit;
use super::{Judged, Verdict};
use quantity::Kind;
use serde::Serialize;

/// What is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum ComparisonKind {
    /// Two stages of one wing.
    Stages,
    /// Left and right wing.
    Sides,
    /// A wing on the aeroplane against its last profile in the jig.
    #[serde(rename = "since-jig")]
    SinceJig,
}

/// Two assessments side by side; every difference is the first less the second.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// Version of this form: 1.
    pub format: u32,
    /// Stages or sides.
    pub kind: ComparisonKind,
    /// The first, in words.
    pub first: String,
    /// The second, in words.
    pub second: String,
    /// The worst of all that is limited; `missing` where something of it has no value in both. None without a limit.
    pub verdict: Option<Verdict>,
    /// Setting and washout error.
    pub parts: Vec<ComparisonRow>,
    /// Twist error at the stations both have.
    pub stations: Vec<ComparisonRow>,
    /// The significance required of a single station after adjusting for their number (Bonferroni, 5 % in all).
    pub station_alpha: f64,
    /// Everything else that both have: posts, spars, bays, spacings, bores, clearances, spot checks.
    pub others: Vec<ComparisonOther>,
    /// What only one of them has, so that it cannot be compared.
    pub not_compared: Vec<String>,
    /// What the person should know.
    pub remarks: Vec<String>,
}

/// One value, besides the twist, that both have, in its own unit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ComparisonOther {
    /// What it is (`straightness of front`, `level tip-post`, `spot BR1`).
    pub name: String,
    /// The quantity; its base unit in JSON.
    #[serde(serialize_with = "base_unit")]
    pub unit: Kind,
    /// Value in the first.
    pub first: f64,
    /// Value in the second.
    pub second: f64,
    /// First less second.
    pub difference: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Two-sided probability of a difference this large by measurement alone.
    pub p: f64,
    /// Whether it is more than measurement, allowing for their number.
    pub real: bool,
}

/// One line of a comparison, in degrees.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ComparisonRow {
    /// The part or the station.
    pub name: String,
    /// Span of a station.
    pub span_mm: Option<f64>,
    /// Value in the first.
    pub first_deg: f64,
    /// Value in the second.
    pub second_deg: f64,
    /// First less second, against the left-right tolerance if sides are compared.
    pub difference: Judged,
    /// Two-sided probability of a difference this large by measurement alone.
    pub p: f64,
    /// Whether it is more than measurement.
    pub real: bool,
}
