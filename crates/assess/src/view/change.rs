//! What changed since the previous stage.

use serde::Serialize;

/// What changed since the previous stage that has a profile.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Changes {
    /// The stage compared with.
    pub since: String,
    /// The parts: setting and washout error.
    pub parts: Vec<PartChange>,
    /// Station by station, the measured deviation less the setting.
    pub stations: Vec<Change>,
    /// The significance required of a single station after adjusting for their number (Bonferroni, 5 % in all).
    pub station_alpha: f64,
}

/// Change of a part of the deviation.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartChange {
    /// `setting` or `washout error`.
    pub part: String,
    /// Change in degrees, now less then.
    pub change_deg: f64,
    /// Its standard uncertainty.
    pub u_deg: f64,
    /// Two-sided probability of a change this large by measurement alone.
    pub p: f64,
    /// Whether it is more than measurement.
    pub real: bool,
}

/// Change at a station.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Change {
    /// The station.
    pub name: String,
    pub span_mm: f64,
    /// Change in degrees, now less then.
    pub change_deg: f64,
    /// Its standard uncertainty.
    pub u_deg: f64,
    /// Two-sided probability of a change this large by measurement alone.
    pub p: f64,
    /// Whether it is more than measurement.
    pub real: bool,
}
