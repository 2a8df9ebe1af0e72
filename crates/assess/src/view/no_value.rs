//! Why a value of the profile is not there.

use super::Verdict;
use record::PointKind;
use serde::{Serialize, Serializer};

/// Why a value of the profile is not there; a sentence in JSON. Texts are names of stations; angles in degrees.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NoValue {
    #[error("not measured")]
    NotMeasured,
    #[error("{0} not measured.")]
    Station(String),
    #[error("{from} to {to} not measured.")]
    Stations { from: String, to: String },
    #[error("No station within 5 % of the span shows the root datum. Plan and measure one.")]
    NoRoot,
    #[error("No station within 5 % of the span shows the tip datum. Plan and measure one.")]
    NoTip,
    #[error("The difference of two stations is all that can be said.")]
    TwoStations,
    #[error("These stations do not determine a curve.")]
    NoCurve,
    /// The two distances of a station are none of a section.
    #[error("no incidence near {design} would give {station} these values of {}", .measured.row().words)]
    NoIncidence { station: String, design: f64, measured: PointKind },
}

impl NoValue {
    /// What it makes of a value that the plan has limits for.
    pub const fn verdict(&self) -> Verdict {
        match self {
            Self::NotMeasured | Self::Station(_) | Self::Stations { .. } | Self::NoRoot | Self::NoTip => {
                Verdict::Missing
            }
            Self::TwoStations | Self::NoCurve | Self::NoIncidence { .. } => Verdict::CannotJudge,
        }
    }
}

impl Serialize for NoValue {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}
