//! The rigged aeroplane: fuselage datum, angles, controls, cables, bolts, marks and the distances between them.
//!
//! Lengths in mm, angles in degrees, forces in N, torques in N·m. Every tolerance comes from the plan.

mod cables;
mod checks;
mod points;

pub use cables::{Bolt, Cable, ChartRow, DragRule, Tension, WrenchExtension};
pub(crate) use checks::read_at;
pub use checks::{Datum, RigCheck, RigValue, Share, SinceJig, Tilted};

use super::Side;
use crate::{Limits, Point};
use quantity::Millimetres;

/// Everything that is rigged; empty in the plan of a wing in its jig.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rigging {
    /// The fuselage that every angle is measured against.
    pub fuselage: Option<Fuselage>,
    /// Angles of wings and tail, from a level or plumb lines.
    pub angles: Vec<RigAngle>,
    /// Control surfaces.
    pub controls: Vec<Control>,
    pub cables: Vec<Cable>,
    pub bolts: Vec<Bolt>,
    pub marks: Vec<Mark>,
    /// Distances between marks.
    pub distances: Vec<Distance>,
    /// Distances left and right that are fitted together.
    pub symmetries: Vec<Symmetry>,
    /// Differences of two things, such as left less right.
    pub differences: Vec<Difference>,
    /// The effect of a part's own weight.
    pub weights: Vec<Weight>,
    /// Wings built in a jig, whose logs are taken up.
    pub wings: Vec<RigWing>,
}

/// A wing built in a jig, whose log is taken up.
#[derive(Clone, Debug, PartialEq)]
pub struct RigWing {
    pub name: String,
    pub side: Side,
    /// The serial number that the wing's own plan must have.
    pub serial: Option<String>,
    /// The drawing that the wing's own plan must have.
    pub drawing: Option<String>,
    /// The issue of the drawing that the wing's own plan must have.
    pub issue: Option<String>,
    /// Its stations that are measured again on the aeroplane; twist counts from the first.
    pub stations: Vec<RigStation>,
    /// Permitted change of the twist at a station since the jig, degrees.
    pub change: Option<Limits<f64>>,
}

/// A station of a wing that is measured again on the aeroplane.
#[derive(Clone, Debug, PartialEq)]
pub struct RigStation {
    /// Its name in the wing's plan.
    pub name: String,
    /// The point at which it is read on the aeroplane.
    pub read: Point,
}

impl RigWing {
    /// What its log must prove, as a name.
    #[must_use]
    pub fn about(&self) -> String {
        format!("{} from its jig", self.name)
    }

    /// The name of the change at a station since the jig.
    #[must_use]
    pub fn change_at(&self, station: &RigStation) -> String {
        format!("change of {} at {} since the jig", self.name, station.name)
    }
}

/// The fuselage's datum, levelled in both directions.
#[derive(Clone, Debug, PartialEq)]
pub struct Fuselage {
    pub name: String,
    /// Tilt fore and aft, positive nose up.
    pub pitch: Option<Limits<f64>>,
    /// Tilt across, positive right side up.
    pub roll: Option<Limits<f64>>,
}

quantity::words! {
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum AngleOf {
        /// A wing or tailplane along its span, outboard end up.
        Dihedral = "dihedral",
        /// The same from the heights of two marks: how much higher the outer one is than the inner one.
        Rise = "rise",
        /// A wing or tailplane fore and aft, nose up.
        Incidence = "incidence",
        /// A fin against the vertical, positive top to the right.
        Upright = "upright",
        /// A wing in plan, positive outboard end aft.
        Sweep = "sweep",
    }
}

/// An angle of a part against the fuselage.
#[derive(Clone, Debug, PartialEq)]
pub struct RigAngle {
    /// The part.
    pub name: String,
    /// Dihedral, incidence, or another.
    pub of: AngleOf,
    /// Which side it is on; `None` in the middle.
    pub side: Option<Side>,
    /// The angle wanted.
    pub design: f64,
    /// Permitted deviation from the design.
    pub tolerance: Option<Limits<f64>>,
    /// For a sweep, the distance along the span between the two plumb lines. For a rise, the distance along the part
    /// between the two marks.
    pub base: Option<Millimetres>,
}

/// How a control's travel is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TravelBy {
    /// A level on the surface, at neutral and at the end.
    Level {
        /// How the level is laid.
        laid: Laid,
        /// Sweep of the hinge in plan, outboard end aft.
        hinge_sweep: f64,
        /// Dihedral of the hinge, outboard end up.
        hinge_dihedral: f64,
    },
    /// A length at the trailing edge.
    Length {
        /// Which line of the triangle or circle it is.
        by: LengthBy,
        /// The chord behind the hinge.
        chord: Millimetres,
    },
}

quantity::words! {
    /// How a level lies on a control surface.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Laid {
        /// Square to the hinge.
        Square = "square",
        /// In line with the aeroplane.
        ForeAft = "fore-aft",
    }
}

quantity::words! {
    /// What a length at the trailing edge is.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum LengthBy {
        /// The chord of the circle.
        Chord = "chord",
        Sine = "sine",
        Arc = "arc",
        Tangent = "tangent",
    }
}

/// A control surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Control {
    pub name: String,
    /// How its travel is read.
    pub by: TravelBy,
    /// Permitted position at neutral, trailing edge up against the fuselage.
    pub neutral: Option<Limits<f64>>,
    /// Travel with the trailing edge up, or to the first side.
    pub up: Option<Limits<f64>>,
    /// Travel with the trailing edge down, or to the other side; positive too.
    pub down: Option<Limits<f64>>,
    /// Free play at the trailing edge, in mm.
    pub play: Option<Limits<f64>>,
}

/// A mark on the aeroplane.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    pub name: String,
    /// How far aft, from any origin the plan chooses.
    pub aft: Millimetres,
    /// How far right of the middle.
    pub right: Millimetres,
    /// How far up.
    pub up: Millimetres,
}

/// A distance between two marks.
#[derive(Clone, Debug, PartialEq)]
pub struct Distance {
    pub name: String,
    /// The marks, by their place in the plan's list.
    pub between: [usize; 2],
    /// Permitted deviation from the distance between the marks' places.
    pub tolerance: Option<Limits<f64>>,
    /// How the tape is held.
    pub tape: Option<TapeHeld>,
}

/// How a tape is held over a distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TapeHeld {
    /// The pull on it, N.
    pub pull: f64,
    /// Limit of error of the pull, N.
    pub within: f64,
    /// Number of equal free spans; 0 if it is supported along its whole length.
    pub spans: u32,
}

/// Pairs of distances from marks on the middle to marks left and right, fitted for yaw and offset.
#[derive(Clone, Debug, PartialEq)]
pub struct Symmetry {
    /// What is judged, such as `wing` or `tailplane`.
    pub name: String,
    pub pairs: Vec<SymmetryPair>,
    /// Yaw, right side aft, degrees.
    pub yaw: Option<Limits<f64>>,
    /// How far right of the wing's middle the fuselage's line passes, mm.
    pub offset: Option<Limits<f64>>,
}

/// Two distances of a symmetry, by their positions in the plan's list, and the geometry of their marks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SymmetryPair {
    /// To the left mark.
    pub left: usize,
    /// To the right mark.
    pub right: usize,
    /// How far the mark on the middle is aft of the other two, mm.
    pub aft: f64,
    /// How far it is above them, mm.
    pub up: f64,
    /// How far they are from the middle, mm.
    pub out: f64,
}

/// One thing less another: left less right, or root less tip.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    pub name: String,
    /// The first, by the point at which it is read.
    pub of: Point,
    /// What is subtracted from it.
    pub less: Point,
    /// The difference wanted.
    pub design: f64,
    /// Permitted deviation from the design.
    pub tolerance: Option<Limits<f64>>,
}

/// The effect of a part's own weight on its angle: measured, never computed from sections.
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// The part.
    pub name: String,
    /// How the effect is separated.
    pub by: WeightBy,
    /// The angle wanted without weight.
    pub design: f64,
    /// Permitted deviation of the built-in angle.
    pub built_in: Option<Limits<f64>>,
    /// Permitted sag.
    pub sag: Option<Limits<f64>>,
    /// Permitted response to the couple.
    pub response: Option<Limits<f64>>,
}

/// How weight is separated from built-in twist.
#[derive(Clone, Debug, PartialEq)]
pub enum WeightBy {
    /// The part is turned over, which reverses the effect of its weight.
    TurnedOver {
        /// Read as it flies.
        upright: Point,
        /// Read upside down, as the level shows it.
        inverted: Point,
    },
    /// A known couple is hung on it.
    Couple {
        /// Read without it.
        without: Point,
        /// Read with it.
        with: Point,
        /// The part's own moment divided by the couple: the response times this is the effect of the weight.
        weight_share: f64,
    },
}

impl Rigging {
    /// The distance between the nominal places of its marks, in mm; `None` if a mark is missing.
    #[must_use]
    pub fn nominal(&self, distance: &Distance) -> Option<f64> {
        let [a, b] = distance.between.map(|i| self.marks.get(i));
        let (a, b) = (a?, b?);
        let squares = [a.aft - b.aft, a.right - b.right, a.up - b.up].map(|d| d.value() * d.value());
        Some(squares.iter().sum::<f64>().sqrt())
    }
}
