//! The wing as a whole, and its stations.

use quantity::{Degrees, Millimetres};
use serde::{Deserialize, Serialize};

quantity::words_in_json! {
    /// Which wing it is, or the whole aeroplane.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum Side {
        /// The left wing, seen by the pilot.
        Left = "left",
        /// The right wing.
        Right = "right",
        /// Both: a rigged aeroplane.
        Both = "both",
    }
}

impl Side {
    /// Left and right, by their words.
    pub(crate) const OF_A_WING: [(&'static str, Self); 2] = [Self::WORDS[0], Self::WORDS[1]];
}

quantity::words_in_json! {
    /// How the wing stands in the jig; angles are measured relative to that.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum Attitude {
        /// Lying as in flight, chord level.
        ChordLevel = "chord-level",
        /// Standing on its leading edge.
        LeadingEdgeDown = "leading-edge-down",
        /// Standing on its trailing edge.
        LeadingEdgeUp = "leading-edge-up",
    }
}

quantity::words! {
    /// Which surface of a wing on edge the plumb lines hang beside. Distances are measured from the line to the spar.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum PlumbSide {
        /// The lower surface: a greater distance is higher in the attitude of flight.
        Lower = "lower",
        /// The upper surface: a greater distance is lower.
        Upper = "upper",
    }
}

impl PlumbSide {
    /// 1 if a distance grows toward the design's up, -1 if it grows toward its down.
    #[must_use]
    pub const fn sign(self) -> f64 {
        match self {
            Self::Lower => 1.0,
            Self::Upper => -1.0,
        }
    }
}

/// The wing as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Wing {
    pub name: String,
    pub side: Side,
    /// How it stands in the jig.
    pub attitude: Attitude,
    /// Span of the root datum.
    pub root: Millimetres,
    /// Span of the tip datum; beyond the root.
    pub tip: Millimetres,
    /// What it is made of, for correcting lengths to 20 °C.
    pub material: Option<Material>,
    /// Which surface its plumb lines hang beside: the lower one where the plan does not say.
    pub plumb: Option<PlumbSide>,
    /// A remark.
    pub note: Option<String>,
    /// Which wing it is, for the papers.
    pub identity: Identity,
}

/// Which wing it is, for the papers; absent values are printed as not in the plan.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Identity {
    /// Serial number of the wing or aircraft.
    pub serial: Option<String>,
    /// The drawing it is built to.
    pub drawing: Option<String>,
    /// The drawing's issue.
    pub issue: Option<String>,
    /// Where it is built.
    pub place: Option<String>,
}

/// Thermal expansion of the part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material {
    /// Linear expansion per kelvin.
    pub expansion: f64,
    /// Its standard uncertainty per kelvin.
    pub expansion_u: f64,
}

/// A named place along the span.
#[derive(Clone, Debug, PartialEq)]
pub struct Station {
    pub name: String,
    /// Distance outboard from the origin of spans.
    pub span: Millimetres,
    /// Chord there.
    pub chord: Millimetres,
    /// Design incidence there.
    pub incidence: Degrees,
    /// How much more than its incidence a true section reads because of the fixture or board under the instrument.
    pub fixture: Degrees,
    /// Angle between the chord line and the line through the front and rear spar's height points, positive nose up.
    pub height_angle: Degrees,
}
