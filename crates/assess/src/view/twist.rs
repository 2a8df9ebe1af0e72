//! The twist profile.

use super::{Finding, NoValue, Verdict};
use numerics::scatter::Spread;
use serde::Serialize;
use std::collections::BTreeMap;

/// A value and its standard uncertainty, in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ValueU {
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

/// The twist profile.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Twist {
    /// Order of the curve; 0 without a curve.
    pub order: usize,
    /// Rigid part of the deviation, in degrees: the curve at the root datum.
    pub setting: Finding,
    /// The curve at the tip datum less the curve at the root datum, in degrees.
    pub washout_error: Finding,
    /// Residual chi-squared of the stations about the curve.
    pub chi2: f64,
    /// Its degrees of freedom.
    pub dof: usize,
    /// Scatter of the ribs about the curve beyond the readings, a standard deviation in degrees (the median of its
    /// possible values).
    pub scatter_deg: Option<f64>,
    /// Rounds that count together.
    pub rounds: usize,
    /// Span of the root datum.
    pub root_mm: f64,
    /// Span of the tip datum.
    pub tip_mm: f64,
    /// Lower limit of the twist error at every station.
    pub lower_deg: Option<f64>,
    /// Upper limit of the twist error at every station.
    pub upper_deg: Option<f64>,
    /// 95 % factor of the simultaneous band; `None` without a band.
    pub simultaneous_factor: Option<f64>,
    /// Every station of the plan, in its order.
    pub stations: Vec<StationView>,
    /// The curve and its band on a fixed grid from root to tip, as far as the stations reach.
    pub band: Vec<BandPoint>,
    /// Deviation from each station that is measured or required to the next.
    pub neighbours: Vec<StepView>,
    /// What the person should know about the profile.
    pub remarks: Vec<String>,
    /// The tests of the readings, passed or not.
    pub tests: Vec<TwistTest>,
    /// The stations in doubt, with or without a tolerance, and why.
    #[serde(skip)]
    pub doubted: BTreeMap<String, String>,
}

/// The change of the deviation from one station to the next.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StepView {
    /// The station inboard.
    pub from: String,
    /// The station outboard.
    pub to: String,
    /// The change, judged, or why it is not.
    #[serde(flatten)]
    pub finding: Finding,
}

/// What a test of the profile's readings asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TwistTestKind {
    /// Does a station depart from the others?
    OddStation,
    /// Do the stations agree from round to round?
    RoundsDiffer,
    /// Did the wing as a whole, or the zero, move between the rounds?
    AllMoved,
    /// Does the instrument repeat as it claims?
    Instrument,
}

impl Twist {
    /// The stations with a value.
    pub fn valued(&self) -> impl Iterator<Item = &StationView> {
        self.stations.iter().filter(|s| s.twist_error_deg.is_some())
    }

    /// What is judged besides the stations: setting, washout error, steps.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        [&self.setting, &self.washout_error].into_iter().chain(self.neighbours.iter().map(|s| &s.finding))
    }

    /// The station of most concern among those with a value: by its verdict, then by how improbable its conformity is, then
    /// by the size of its twist error. `None` if no station has a value.
    pub fn worst(&self) -> Option<&StationView> {
        let conforms = |s: &StationView| s.probability.unwrap_or(1.0);
        let size = |s: &StationView| s.twist_error_deg.map_or(0.0, f64::abs);
        self.valued().filter(|s| s.u_deg.is_some()).max_by(|a, b| {
            let verdict = a.verdict.cmp(&b.verdict);
            verdict.then(conforms(b).total_cmp(&conforms(a))).then(size(a).total_cmp(&size(b)))
        })
    }
}

/// A test of the profile's readings.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TwistTest {
    /// What it asks.
    pub kind: TwistTestKind,
    /// The stations, or the instrument, concerned; empty for the whole wing.
    pub about: Vec<String>,
    /// Probability of this much by chance, already shared over the stations.
    pub p: f64,
    /// What to say if it is too small.
    pub words: String,
}

quantity::words_in_json! {
    /// The source of a station's incidence.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
    pub enum IncidenceFrom {
        /// An angle read at the station.
        Incidence = "incidence",
        /// Heights of two spars.
        Heights = "heights",
        /// Distances of two spars from a plumb line.
        Plumb = "plumb",
    }
}

/// A station in the profile.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct StationView {
    pub name: String,
    pub span_mm: f64,
    /// Relative place between root datum (0) and tip datum (1).
    pub eta: f64,
    /// Design incidence.
    pub design_deg: f64,
    /// Measured incidence; `None` without a usable reading.
    pub measured_deg: Option<f64>,
    /// Standard uncertainty of the measured incidence.
    pub measured_u_deg: Option<f64>,
    /// Measured less design.
    pub deviation_deg: Option<f64>,
    /// Twist error: its own readings less the setting.
    pub twist_error_deg: Option<f64>,
    /// Half the width of its 95 % interval over 1.96.
    pub u_deg: Option<f64>,
    /// Lower end of its 95 % interval.
    pub lower95_deg: Option<f64>,
    /// Upper end of its 95 % interval.
    pub upper95_deg: Option<f64>,
    /// Measured deviation less the curve.
    pub residual_deg: Option<f64>,
    /// The verdict; `None` without a tolerance, or if it is neither measured nor required.
    pub verdict: Option<Verdict>,
    /// Probability of conformity.
    pub probability: Option<f64>,
    /// What would decide it.
    pub decide: Option<String>,
    /// Why it has no twist error.
    pub why: Option<NoValue>,
    /// Whether it stands out from the others and should be measured again.
    pub remeasure: bool,
    /// Whether it stands out from the others, measured again or not.
    pub stands_out: bool,
    /// The source of the incidence.
    pub from: Option<IncidenceFrom>,
    /// Whether it is a reversal pair.
    pub reversed: bool,
    /// The distribution of its error; `None` means normal with `u_deg`.
    #[serde(skip)]
    pub spread: Option<Spread>,
}

impl StationView {
    /// What to say about a station that stands out.
    pub const fn standing(&self) -> Option<&'static str> {
        match (self.stands_out, self.remeasure) {
            (false, _) => None,
            (true, true) => {
                Some("stands out from its neighbours. Seat the level afresh and measure it again.")
            }
            (true, false) => Some(
                "stood out again when measured again. It has its own verdict and is left \
                out of the curve.",
            ),
        }
    }
}

/// The curve at a place on the grid.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BandPoint {
    /// Where.
    pub span_mm: f64,
    /// The curve there, less the setting.
    pub fit_deg: f64,
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
    pub stage: String,
    /// Its setting in degrees; `None` if its stations did not show the root.
    pub setting: Option<ValueU>,
    /// Its washout error in degrees; `None` if its stations did not show both ends.
    pub washout_error: Option<ValueU>,
    /// Its measured stations.
    pub stations: Vec<PreviousStation>,
}

/// A station of an earlier stage.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PreviousStation {
    pub span_mm: f64,
    /// Its twist error then.
    pub twist_error_deg: f64,
    /// Half the width of its 95 % interval over 1.96.
    pub u_deg: f64,
}
