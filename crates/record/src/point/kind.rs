//! The kinds of point.

/// What is measured at a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PointKind {
    /// Tilt of a post or rail along the span, positive outboard end up.
    Level,
    /// Tilt of a post or rail fore and aft, positive leading edge up.
    Cross,
    /// A diagonal of a bay.
    Diagonal,
    /// Distance of a station from the root datum.
    Spacing,
    /// Offset of a spar from a stretched line, positive aft or up.
    Offset,
    /// Slope of a step of a level walk along a spar, ending at the station.
    Walk,
    /// Angle of the section with the horizontal of the design attitude, positive nose up.
    Incidence,
    /// Height of a spar above a common datum.
    Height,
    /// Horizontal distance of a spar from a plumb line.
    Plumb,
    /// Diameter of a bush's bore.
    Bore,
    /// Centre of a bush, aft.
    BoreAft,
    /// Centre of a bush, up.
    BoreUp,
    /// A spot check.
    Spot,
    /// Tilt of the fuselage fore and aft, positive nose up.
    Pitch,
    /// Tilt of the fuselage across, positive right side up.
    Roll,
    /// A wing or tailplane along its span, positive outboard end up.
    Dihedral,
    /// How far the outer mark of a wing or tailplane lies above the inner one.
    Rise,
    /// A wing or tailplane fore and aft on the rigged aeroplane, positive nose up.
    RigIncidence,
    /// A fin from the vertical, positive top to the right.
    Upright,
    /// How far aft of the inner plumb line the outer one hangs.
    Sweep,
    /// Distance between two marks.
    Distance,
    /// A control surface at neutral, positive trailing edge up.
    Neutral,
    /// A control surface at the end of its travel up, or to the first side.
    TravelUp,
    /// A control surface at the end of its travel down, or to the other side.
    TravelDown,
    /// Free play at the trailing edge.
    Play,
    /// Tension of a cable.
    Tension,
    /// What a nut takes to run down free.
    Drag,
    /// Torque of a bolt, as the wrench shows it.
    Torque,
}
