//! A wing's log taken up into that of the aeroplane.

use crate::GateState;
use crate::plan::Side;
use serde::{Deserialize, Serialize};

/// What a wing's log said when it was taken up: which log it is, what was decided in it, its last profile.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WingTaken {
    /// The wing, by its name in the aeroplane's plan.
    pub name: String,
    /// The file of its log, as seen from the folder of the aeroplane's.
    pub log: String,
    /// What the wing's own plan calls it.
    pub wing: String,
    /// Which side it was built for.
    pub side: Side,
    /// Its serial number, by its own plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub serial: Option<String>,
    /// Its drawing, by its own plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drawing: Option<String>,
    /// The drawing's issue, by its own plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub issue: Option<String>,
    /// SHA-256 of the text of its plan in force, hexadecimal.
    pub plan_sha256: String,
    /// The hash of its first entry, hexadecimal, which no other log has.
    pub first: String,
    /// How many entries it had.
    pub entries: u64,
    /// The hash of the last of them, hexadecimal.
    pub head: String,
    /// Its closing gate: as it was decided, or as it was then where nothing was decided yet.
    pub gate: GateState,
    /// The last entry that the decision rests on, once a stage after the closing one had begun.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decided: Option<u64>,
    /// Why the gate held, worst first; the first few.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub held: Vec<String>,
    /// Its sign-offs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub signed: Vec<WingSigned>,
    /// The stage that its last profile is of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stage: Option<String>,
    /// That profile: the incidence of each measured station.
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
    /// True where nothing speaks against the signature.
    pub sound: bool,
    /// True where what they saw was judged by the plan in force when the wing was taken up.
    pub same_plan: bool,
    /// Entries that bear on the decision and were written after what they saw.
    pub uncovered: u64,
}

/// A station of a wing's last profile, in degrees.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct JigStation {
    /// Its name in the wing's plan.
    pub name: String,
    /// Where along the span, in mm.
    pub span_mm: f64,
    /// The incidence that the wing's plan asks for.
    pub design_deg: f64,
    /// The incidence measured.
    pub incidence_deg: f64,
    /// Standard uncertainty of its own.
    pub own_deg: f64,
    /// What it shares with other stations of the profile.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shared: Vec<JigShared>,
}

/// By how much a station changes with one standard uncertainty of an error that others share.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct JigShared {
    pub error: String,
    /// The change, in degrees.
    pub deg: f64,
}
