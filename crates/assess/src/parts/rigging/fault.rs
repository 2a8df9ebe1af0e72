//! Why measurements of the rigged aeroplane give no value.

use numerics::rigging::symmetry::{OneEquation, SymmetryError};
use quantity::shown::Scale;
use quantity::{Kind, Units};

/// Why measurements of the rigged aeroplane give no value.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum RigFault {
    #[error("a reading is missing")]
    NoReading,
    #[error("a distance is missing")]
    NoDistance,
    #[error("its tension depends on a chart, and no temperature was taken with it")]
    NoTemperature,
    #[error("its chart goes from {} to {}, but it was {}",
        .scale.exact_with(*.from), .scale.exact_with(*.to), .scale.exact_with(*.at))]
    BeyondChart { from: f64, to: f64, at: f64, scale: Scale },
    #[error("the plan has no base for it")]
    NoBase,
    #[error("it rises by more than its base")]
    TooSteep,
    #[error("with its extension the nut is at the grip or behind it")]
    Extension,
    #[error("the drag of its nut was not measured")]
    NoDrag,
    #[error("its neutral was not measured")]
    NoNeutral,
    #[error("on its hinge, a level laid this way never shows that")]
    NeverShown,
    #[error("with its chord, no travel gives this length")]
    NoTravel,
    #[error("the log of {0} is not taken up")]
    NotTakenUp(String),
    #[error("the log that was taken up is not that of {0}")]
    OfAnother(String),
    #[error("the last profile of {wing} in its jig has no station {station}")]
    NoStation { wing: String, station: String },
    #[error("station {station} of {wing} has impossible figures as taken up")]
    Station { wing: String, station: String },
    /// Two distances that marks placed so cannot have.
    #[error("{place} and its other side together say {}, but by the plan the marks are {} apart",
        .length.fixed_with(*.both, 0), .length.fixed_with(*.apart, 0))]
    Misplaced { place: String, both: f64, apart: f64, length: Scale },
    #[error("{}", in_words(.source, *.units))]
    Symmetry { source: SymmetryError, units: Units },
}

/// Distances that cannot all be right.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("the distances contradict each other{}: measure them again, and check the marks",
    .worst.as_ref().map_or_else(String::new, ToString::to_string))]
pub struct Contradiction {
    pub worst: Option<LeftOver>,
}

/// The pair that the others contradict most.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("; the largest remainder is at {place} and its other side, {}", .length.signed_with(*.left_mm, 1))]
pub struct LeftOver {
    pub place: String,
    pub left_mm: f64,
    pub length: Scale,
}

fn in_words(why: &SymmetryError, units: Units) -> String {
    match why {
        SymmetryError::One(OneEquation { if_turned, if_off_centre }) => {
            let turned = if_turned.map_or_else(String::new, |t| {
                let turned = units.scale(Kind::Angle).signed_with(t.to_degrees(), 3);
                format!("turned by {turned} with the mark on the middle, or ")
            });
            format!(
                "one pair cannot tell a turned wing from a mark off centre: {turned}a mark {} off the middle, or anything \
                 between; measure to a second mark well ahead of or behind the first",
                units.scale(Kind::Length).signed_with(*if_off_centre, 1)
            )
        }
        other => other.to_string(),
    }
}
