//! A wing's log taken up into the aeroplane's log.

use crate::GateState;
use crate::plan::Side;
use serde::{Deserialize, Serialize};

/// What a wing's log said when it was taken up: which log it is, its decision, its last profile.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WingTaken {
    /// The wing, by its name in the aeroplane's plan.
    pub name: String,
    /// The path of its log, relative to the folder of the aeroplane's log.
    pub log: String,
    /// What the wing's own plan calls it.
    pub wing: String,
    /// Which side it was built for.
    pub side: Side,
    /// Its serial number, from its own plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serial: Option<String>,
    /// Its drawing, from its own plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drawing: Option<String>,
    /// The drawing's issue, from its own plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub issue: Option<String>,
    /// SHA-256 of the plan in force, in hexadecimal.
    pub plan_sha256: String,
    /// The hash of its first entry, in hexadecimal, which identifies the log.
    pub first: String,
    /// How many entries it had.
    pub entries: u64,
    /// The hash of the last of them, hexadecimal.
    pub head: String,
    /// Its closing gate: as decided, or, if nothing was decided yet, as it was then.
    pub gate: GateState,
    /// The last entry that the decision depends on, if a stage after the closing one had begun.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decided: Option<u64>,
    /// Why the gate held, worst first; only the first few.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub held: Vec<String>,
    /// Its sign-offs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub signed: Vec<WingSigned>,
    /// The stage of its last profile.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage: Option<String>,
    /// The profile: the incidence of each measured station.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stations: Vec<JigStation>,
}

/// A sign-off in the log of a wing that was taken up.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct WingSigned {
    pub entry: u64,
    /// Who signed.
    pub who: String,
    pub capacity: String,
    /// The gate when they signed.
    pub gate: GateState,
    /// Whether nothing contradicts the signature.
    pub sound: bool,
    /// Whether the plan they signed under is the plan in force when the wing was taken up.
    pub same_plan: bool,
    /// Entries written after what they covered that bear on the decision.
    pub uncovered: u64,
}

/// A station of a wing's last profile, in degrees.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct JigStation {
    /// Its name in the wing's plan.
    pub name: String,
    /// Where along the span, in mm.
    pub span_mm: f64,
    /// The design incidence in the wing's plan.
    pub design_deg: f64,
    /// The incidence measured.
    pub incidence_deg: f64,
    /// Independent standard uncertainty.
    pub own_deg: f64,
    /// What it shares with other stations of the profile.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shared: Vec<JigShared>,
}

/// The change of a station with one standard uncertainty of a shared error.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct JigShared {
    pub error: String,
    /// The change, in degrees.
    pub deg: f64,
}
