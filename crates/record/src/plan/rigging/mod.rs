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
    /// The fuselage that every angle is reckoned from.
    pub fuselage: Option<Fuselage>,
    /// Angles of wings and tail, by a level or from plumb lines.
    pub angles: Vec<RigAngle>,
    /// Control surfaces.
    pub controls: Vec<Control>,
    pub cables: Vec<Cable>,
    pub bolts: Vec<Bolt>,
    pub marks: Vec<Mark>,
    /// Distances between marks.
    pub distances: Vec<Distance>,
    /// Distances of left and right that are fitted together.
    pub symmetries: Vec<Symmetry>,
    /// Differences of two things, as left and right.
    pub differences: Vec<Difference>,
    /// What a part's own weight does to it.
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
    /// How far the twist at a station may have changed since the jig, degrees.
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
    /// What its log must prove, by name.
    #[must_use]
    pub fn about(&self) -> String {
        format!("{} from its jig", self.name)
    }

    /// The change at a station since the jig, by name.
    #[must_use]
    pub fn change_at(&self, station: &RigStation) -> String {
        format!("change of {} at {} since the jig", self.name, station.name)
    }
}

/// The fuselage's datum, levelled both ways.
#[derive(Clone, Debug, PartialEq)]
pub struct Fuselage {
    pub name: String,
    /// Tilt fore and aft, positive nose up.
    pub pitch: Option<Limits<f64>>,
    /// Tilt across, positive right side up.
    pub roll: Option<Limits<f64>>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AngleOf {
    /// A wing or tailplane along its span, outboard end up.
    Dihedral,
    /// The same, from the heights of two marks: how much the outer one lies above the inner one.
    Rise,
    /// A wing or tailplane fore and aft, nose up.
    Incidence,
    /// A fin from the vertical, its top to the right.
    Upright,
    /// A wing in plan, outboard end aft.
    Sweep,
}

/// An angle of a part against the fuselage.
#[derive(Clone, Debug, PartialEq)]
pub struct RigAngle {
    /// The part.
    pub name: String,
    /// What it is of.
    pub of: AngleOf,
    /// Which side it is on; none for what stands in the middle.
    pub side: Option<Side>,
    /// The angle wanted.
    pub design: f64,
    /// How far it may be from that.
    pub tolerance: Option<Limits<f64>>,
    /// For a sweep: how far the outer plumb line hangs outboard of the inner one. For a rise: how far apart the two
    /// marks are along the part.
    pub base: Option<Millimetres>,
}

/// How a control's travel is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TravelBy {
    /// A level on the surface, at neutral and at the end.
    Level {
        /// How it lies there.
        laid: Laid,
        /// Sweep of the hinge in plan, outboard end aft.
        hinge_sweep: f64,
        /// Dihedral of the hinge, outboard end up.
        hinge_dihedral: f64,
    },
    /// A length at the trailing edge.
    Length {
        /// What it is of the circle that the trailing edge runs on.
        by: LengthBy,
        /// The chord behind the hinge.
        chord: Millimetres,
    },
}

/// How a level lies on a control surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Laid {
    /// Square to the hinge.
    Square,
    /// In line with the aeroplane.
    ForeAft,
}

/// What a length at the trailing edge is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthBy {
    /// The chord of the circle.
    Chord,
    Sine,
    Arc,
    Tangent,
}

/// A control surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Control {
    pub name: String,
    /// How its travel is read.
    pub by: TravelBy,
    /// Where it may be at neutral, trailing edge up against the fuselage.
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
    /// How far aft, from wherever the plan counts.
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
    /// How far it may be from what the marks' places give.
    pub tolerance: Option<Limits<f64>>,
    /// How the tape is held.
    pub tape: Option<TapeHeld>,
}

/// How a tape is held over a distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TapeHeld {
    /// The pull on it, N.
    pub pull: f64,
    /// How far the pull may be off, N.
    pub within: f64,
    /// Equal spans over which it hangs free; none where it lies along its whole length.
    pub spans: u32,
}

/// Pairs of distances from marks on the middle to marks left and right, fitted for yaw and offset.
#[derive(Clone, Debug, PartialEq)]
pub struct Symmetry {
    /// What is judged: `wing`, `tailplane`.
    pub name: String,
    pub pairs: Vec<SymmetryPair>,
    /// Yaw, right side aft, degrees.
    pub yaw: Option<Limits<f64>>,
    /// How far right of its middle the fuselage's line passes, mm.
    pub offset: Option<Limits<f64>>,
}

/// Two distances of a symmetry, by their places in the plan's list, and how the marks lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SymmetryPair {
    /// To the left mark.
    pub left: usize,
    /// To the right mark.
    pub right: usize,
    /// How far the mark on the middle lies aft of the other two, mm.
    pub aft: f64,
    /// How far it lies above them, mm.
    pub up: f64,
    /// How far they lie from the middle, mm.
    pub out: f64,
}

/// One thing less another: left less right, or root less tip.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    pub name: String,
    /// The first, by the point that it is read at.
    pub of: Point,
    /// What is taken from it.
    pub less: Point,
    /// The difference wanted.
    pub design: f64,
    /// How far it may be from that.
    pub tolerance: Option<Limits<f64>>,
}

/// What a part's own weight does to its angle: measured, never computed from sections.
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// The part.
    pub name: String,
    /// How it is told apart.
    pub by: WeightBy,
    /// The angle wanted without weight.
    pub design: f64,
    /// How far it may be from that.
    pub built_in: Option<Limits<f64>>,
    /// How far weight may turn it.
    pub sag: Option<Limits<f64>>,
    /// How far the couple may turn it.
    pub response: Option<Limits<f64>>,
}

/// How weight is told apart from what is built in.
#[derive(Clone, Debug, PartialEq)]
pub enum WeightBy {
    /// The part is turned over, and its weight with it.
    TurnedOver {
        /// Read as it flies.
        upright: Point,
        /// Read upside down, as the level shows it there.
        inverted: Point,
    },
    /// A known couple is hung on it.
    Couple {
        /// Read without it.
        without: Point,
        /// Read with it.
        with: Point,
        /// What the couple's turn must be multiplied by to be that of the part's own weight: its moment over the couple.
        weight_share: f64,
    },
}

impl Rigging {
    /// What the places of its marks make of a distance, in mm; `None` for marks that are not there.
    #[must_use]
    pub fn nominal(&self, distance: &Distance) -> Option<f64> {
        let [a, b] = distance.between.map(|i| self.marks.get(i));
        let (a, b) = (a?, b?);
        let squares = [a.aft - b.aft, a.right - b.right, a.up - b.up].map(|d| d.value() * d.value());
        Some(squares.iter().sum::<f64>().sqrt())
    }
}
