//! The kinds of point, each with its row, in the order of work.

use super::row::{Arrow, Place, Row};
use super::rows::{jig, rigging, wing};
use crate::Facing;
use quantity::Kind;

/// Declares the kinds and their rows: a kind without a row does not compile.
macro_rules! kinds {
    ($($(#[$doc:meta])* $kind:ident => $row:path,)+) => {
        /// What is measured at a point.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum PointKind {
            $($(#[$doc])* $kind,)+
        }

        impl PointKind {
            /// Everything that sets this kind apart.
            #[must_use]
            pub const fn row(self) -> &'static Row {
                match self {
                    $(Self::$kind => &$row,)+
                }
            }

            /// Every kind, in the order of work.
            pub fn all() -> impl DoubleEndedIterator<Item = Self> + Clone {
                [$(Self::$kind,)+].into_iter()
            }
        }
    };
}

kinds! {
    /// Tilt of a post or rail along the span, positive outboard end up.
    Level => jig::LEVEL,
    /// Tilt of a post or rail fore and aft, positive leading edge up.
    Cross => jig::CROSS,
    /// A diagonal of a bay.
    Diagonal => jig::DIAGONAL,
    /// Distance of a station from the root datum.
    Spacing => jig::SPACING,
    /// Offset of a spar from a stretched line, positive aft or up.
    Offset => jig::OFFSET,
    /// Slope of a step of a level walk along a spar, ending at the station.
    Walk => jig::WALK,
    /// Angle of the section with the horizontal of the design attitude, positive nose up.
    Incidence => wing::INCIDENCE,
    /// Height of a spar above a common datum.
    Height => wing::HEIGHT,
    /// Horizontal distance of a spar from a plumb line.
    Plumb => wing::PLUMB,
    /// Diameter of a bush's bore.
    Bore => wing::BORE,
    /// Centre of a bush, aft.
    BoreAft => wing::BORE_AFT,
    /// Centre of a bush, up.
    BoreUp => wing::BORE_UP,
    /// A spot check.
    Spot => wing::SPOT,
    /// Tilt of the fuselage fore and aft, positive nose up.
    Pitch => rigging::PITCH,
    /// Tilt of the fuselage across, positive right side up.
    Roll => rigging::ROLL,
    /// A wing or tailplane along its span, positive outboard end up.
    Dihedral => rigging::DIHEDRAL,
    /// How far the outer mark of a wing or tailplane lies above the inner one.
    Rise => rigging::RISE,
    /// A wing or tailplane fore and aft on the rigged aeroplane, positive nose up.
    RigIncidence => rigging::RIG_INCIDENCE,
    /// A fin from the vertical, positive top to the right.
    Upright => rigging::UPRIGHT,
    /// How far aft of the inner plumb line the outer one hangs.
    Sweep => rigging::SWEEP,
    /// Distance between two marks.
    Distance => rigging::DISTANCE,
    /// A control surface at neutral, positive trailing edge up.
    Neutral => rigging::NEUTRAL,
    /// A control surface at the end of its travel up, or to the first side.
    TravelUp => rigging::TRAVEL_UP,
    /// A control surface at the end of its travel down, or to the other side.
    TravelDown => rigging::TRAVEL_DOWN,
    /// Free play at the trailing edge.
    Play => rigging::PLAY,
    /// Tension of a cable.
    Tension => rigging::TENSION,
    /// The torque to run a nut down freely.
    Drag => rigging::DRAG,
    /// Torque of a bolt, as the wrench shows it.
    Torque => rigging::TORQUE,
}

impl PointKind {
    /// The word before the `@`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        self.row().word
    }

    /// The quantity of its readings; `None` for a spot check, where the plan decides.
    #[must_use]
    pub const fn quantity(self) -> Option<Kind> {
        self.row().quantity
    }

    /// True where the place is a spar and a station (`rear:S9`).
    #[must_use]
    pub const fn on_spar(self) -> bool {
        matches!(self.row().place, Place::Spar)
    }

    /// Whether the instrument's facing sets the sign, so that a reversal pair can be taken.
    #[must_use]
    pub const fn reverses(self) -> bool {
        !matches!(self.row().arrow, Arrow::None)
    }

    /// Which way its instrument points in a facing, as one word (`forward`; of a tilt along the span `outboard`).
    #[must_use]
    pub const fn toward(self, facing: Facing) -> &'static str {
        self.row().arrow.toward(facing)
    }
}
