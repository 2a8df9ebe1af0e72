//! The twist profile.

use super::{Judged, Verdict};
use serde::Serialize;

/// A value and its standard uncertainty, in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ValueU {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

/// The fitted twist profile.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Twist {
    /// Order of the polynomial.
    pub order: usize,
    /// The orders tried and why this one was taken.
    pub orders: Vec<OrderTried>,
    /// Rigid part of the deviation, in degrees.
    pub setting: Judged,
    /// Twist error at the tip datum, in degrees.
    pub washout_error: Judged,
    /// Generalised residual sum of squares.
    pub chi2: f64,
    /// Residual degrees of freedom.
    pub dof: usize,
    /// Factor by which the uncertainties were enlarged; 1 where the readings scatter as the instrument claims.
    pub scale: f64,
    /// 95 % coverage factor, two-sided, of the pointwise band.
    pub pointwise_factor: f64,
    /// 95 % factor of the simultaneous band.
    pub simultaneous_factor: f64,
    /// Every station of the plan, by growing span.
    pub stations: Vec<StationView>,
    /// The fit and its bands on a fixed grid from root to tip.
    pub band: Vec<BandPoint>,
    /// Deviation from one station to the next.
    pub neighbours: Vec<Judged>,
    /// What the person should be told about the fit.
    pub remarks: Vec<String>,
}

/// An order that was tried.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OrderTried {
    /// The order.
    pub order: usize,
    /// Residual sum of squares.
    pub chi2: f64,
    /// Small-sample Akaike criterion; none where too few readings.
    pub aicc: Option<f64>,
    /// F against the order below.
    pub f: Option<f64>,
    /// Its probability.
    pub p: Option<f64>,
    /// Why it was taken or left.
    pub why: String,
}

/// What the incidence of a station was taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum IncidenceFrom {
    /// An angle read at the station.
    Incidence,
    /// Heights of two spars.
    Heights,
    /// Distances of two spars from a plumb line.
    Plumb,
}

impl IncidenceFrom {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Incidence => "incidence",
            Self::Heights => "heights",
            Self::Plumb => "plumb",
        }
    }
}

/// A station in the profile.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StationView {
    /// Its name.
    pub name: String,
    /// Its span.
    pub span_mm: f64,
    /// Relative place between root datum (0) and tip datum (1).
    pub eta: f64,
    /// Design incidence.
    pub design_deg: f64,
    /// Measured incidence; none where there is no usable reading.
    pub measured_deg: Option<f64>,
    /// Standard uncertainty of the measured incidence.
    pub measured_u_deg: Option<f64>,
    /// Measured less design.
    pub deviation_deg: Option<f64>,
    /// Twist error from the fit; by its own readings where it stands out and did so again.
    pub twist_error_deg: Option<f64>,
    /// Its standard uncertainty.
    pub u_deg: Option<f64>,
    /// Measured deviation less the fit.
    pub residual_deg: Option<f64>,
    /// Externally studentised residual; none for a station that is not in the fit.
    pub studentised: Option<f64>,
    /// The verdict; none without a tolerance.
    pub verdict: Option<Verdict>,
    /// Probability of conformity.
    pub probability: Option<f64>,
    /// What would decide it.
    pub decide: Option<String>,
    /// True if it stands out from the others and should be measured again.
    pub remeasure: bool,
    /// True if it stands out from the others, whether or not it was measured again.
    pub stands_out: bool,
    /// What the incidence was taken from.
    pub from: Option<IncidenceFrom>,
    /// True for a reversal pair.
    pub reversed: bool,
}

impl StationView {
    /// What is to be said of a station that stands out.
    #[must_use]
    pub const fn standing(&self) -> Option<&'static str> {
        match (self.stands_out, self.remeasure) {
            (false, _) => None,
            (true, true) => Some("stands out from the others: measure it again"),
            (true, false) => Some(
                "stands out from the others, measured again too: left out of the fit and judged by its own readings",
            ),
        }
    }
}

/// The fit at a place on the grid.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BandPoint {
    /// Where.
    pub span_mm: f64,
    /// Fitted twist error there.
    pub fit_deg: f64,
    /// Half width of the pointwise 95 % band.
    pub pointwise_deg: f64,
    /// Half width of the simultaneous 95 % band.
    pub simultaneous_deg: f64,
    /// Tolerance band there, lower (the station tolerance).
    pub lower_deg: Option<f64>,
    /// Tolerance band there, upper.
    pub upper_deg: Option<f64>,
}

/// The profile of an earlier stage.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PreviousTwist {
    /// The stage.
    pub stage: String,
    /// Its setting in degrees.
    pub setting: ValueU,
    /// Its washout error in degrees.
    pub washout_error: ValueU,
    /// Span in mm, twist error in degrees and its standard uncertainty, station by station.
    pub stations: Vec<(f64, f64, f64)>,
}
