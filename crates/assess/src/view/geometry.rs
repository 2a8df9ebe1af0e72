//! Straightness, level, squareness, spacing, bores and rows of spot checks.

use super::Judged;
use super::judged::base_unit;
use quantity::Kind;
use serde::Serialize;

/// Straightness of a spar.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SparView {
    pub spar: String,
    /// How it was measured.
    pub method: StraightnessMethod,
    /// Width of the minimum zone, in mm (ISO 1101), judged if there is a tolerance.
    pub minimum_zone: Judged,
    /// Peak to valley about the least-squares line, in mm.
    pub least_squares_mm: f64,
    /// Peak to valley about the line through the ends, in mm.
    pub end_point_mm: f64,
    /// Largest line sag removed, in mm; 0 without a sag correction.
    pub sag_mm: f64,
    /// Station by station.
    pub offsets: Vec<OffsetView>,
}

quantity::words_in_json! {
    /// How straightness was measured.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
    pub enum StraightnessMethod {
        /// Offsets from a stretched line.
        Line = "line",
        /// A level walked along it.
        Walk = "walk",
    }
}

impl StraightnessMethod {
    /// How it was measured, for a sentence.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Line => "stretched line",
            Self::Walk => "level walked along it",
        }
    }
}

/// An offset of a spar.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OffsetView {
    pub station: String,
    pub span_mm: f64,
    /// From the middle of the minimum zone.
    pub offset_mm: f64,
    /// Its standard uncertainty.
    pub u_mm: f64,
}

/// A tilt of a post in one direction.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Tilt {
    /// The tilt in degrees, judged.
    pub tilt: Judged,
    /// What to do at the feet, in the order to do it.
    pub moves: Vec<String>,
    /// The same as numbers.
    pub turns: Vec<FootTurns>,
}

/// What to do at a foot.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FootTurns {
    pub foot: String,
    /// Signed turns, clockwise positive; mm for shims.
    pub turns: f64,
}

/// Level of a post.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PostView {
    pub post: String,
    /// Where along the span.
    pub span_mm: f64,
    /// Along the span, positive outboard up.
    pub level: Option<Tilt>,
    /// Fore and aft, positive leading edge up.
    pub cross: Option<Tilt>,
}

/// Squareness of a bay.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BayView {
    pub bay: String,
    /// Angle out of square in degrees, judged.
    pub out_of_square: Judged,
    /// Difference of the diagonals in mm.
    pub difference_mm: f64,
}

/// Distance of a station from the root datum.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SpacingView {
    pub station: String,
    /// Where it should be, from the root datum.
    pub design_mm: f64,
    /// Measured, at 20 °C.
    pub measured_mm: f64,
    /// The correction to 20 °C that was applied.
    pub correction_mm: f64,
    /// Measured less design, judged.
    pub deviation: Judged,
    /// Deviation of the gap to the station before.
    pub gap_deviation_mm: Option<f64>,
}

/// The shaft in its bushes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BoreLine {
    pub shaft: String,
    /// Largest least radial clearance that a straight shaft can have, in mm, judged; if negative, the shaft binds.
    pub clearance: Judged,
    /// Whether a straight shaft passes.
    pub passes: bool,
    /// Each bush.
    pub bushes: Vec<BushView>,
    /// What to do, if it binds or is too tight.
    pub advice: Vec<String>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BushView {
    pub bush: String,
    /// Where along the span.
    pub span_mm: f64,
    /// Centre, aft.
    pub aft_mm: f64,
    /// Centre, up.
    pub up_mm: f64,
    pub bore_mm: f64,
    /// The best line there, aft and up.
    pub line_aft_mm: f64,
    /// The best line there, up.
    pub line_up_mm: f64,
    /// Radial clearance there.
    pub clearance_mm: f64,
    /// Smallest shift of this bush alone, aft and up, that gives the clearance wanted; `None` if no shift does.
    pub shift_mm: Option<Shift>,
}

/// A shift of a bush, in mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Shift {
    pub aft: f64,
    pub up: f64,
}

impl BoreLine {
    /// The bushes that alone give the clearance wanted, each with its shift, the smallest first.
    pub(crate) fn ways(&self) -> Vec<(&BushView, Shift)> {
        let mut ways: Vec<_> = self.bushes.iter().filter_map(|b| Some((b, b.shift_mm?))).collect();
        ways.sort_by(|(_, a), (_, b)| libm::hypot(a.aft, a.up).total_cmp(&libm::hypot(b.aft, b.up)));
        ways
    }
}

/// A row of spot checks.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RowView {
    pub row: String,
    /// The quantity; its base unit in JSON (`deg`, `mm`, `N·m` or `°C`).
    #[serde(serialize_with = "base_unit")]
    pub unit: Kind,
    /// Values found, by place.
    pub values: Vec<PlaceValue>,
    pub mean: f64,
    /// Standard deviation.
    pub sd: f64,
    /// Largest less smallest.
    pub spread: f64,
    /// Slope along the row.
    pub trend: Option<RowTrend>,
    /// Worst step between neighbours.
    pub worst_step: Option<RowStep>,
}

/// A value in a row.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PlaceValue {
    /// Its place in the row.
    pub place: u32,
    pub value: f64,
}

/// A trend along a row.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RowTrend {
    /// Slope per place.
    pub slope: f64,
    /// Two-sided probability that a row without a trend shows this much.
    pub p: f64,
}

/// A step from one place of a row to the next.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RowStep {
    /// The first of the two places.
    pub after: u32,
    pub step: f64,
}
