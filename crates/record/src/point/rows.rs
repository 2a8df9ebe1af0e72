//! The kinds of point, one row each, in the order of work on a wing.

mod rigging;

use super::row::{
    Arrow, Design, DisturbedBy, Go, Judgement, Off, Place, Readings, Reference, Row, Sign, Spoilers,
};
use quantity::Kind;

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

impl PointKind {
    /// Everything that sets this kind apart.
    #[must_use]
    pub const fn row(self) -> &'static Row {
        // The rows are in the order of the enum; a test holds them to it.
        &ROWS[self as usize]
    }

    /// Every kind, in the order of work on a wing.
    pub fn all() -> impl DoubleEndedIterator<Item = Self> + Clone {
        ROWS.iter().map(|row| row.kind)
    }
}

/// The words and the direction for a value that is off.
const fn off(words: &'static str, go: Go) -> Off {
    Off { words, go }
}

const LOWER_IT: Off = off("lower it", Go::Down);
const RAISE_IT: Off = off("raise it", Go::Up);
const FORWARD: Off = off("bring it forward", Go::Forward);
const AFT: Off = off("bring it aft", Go::Aft);

/// The rows, in the order of the enum.
pub(super) const ROWS: [Row; 27] = [
    Row {
        kind: PointKind::Level,
        word: "level",
        words: "tilt along the span",
        short: "along the span",
        quantity: Some(Kind::Angle),
        place: Place::Post,
        arrow: Arrow::AlongSpan,
        disturbed_by: DisturbedBy::Feet,
        reference: Reference::AsRead,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Zero,
        judgement: Judgement::Level,
        above: off("lower the outboard end", Go::Down),
        below: off("raise the outboard end", Go::Up),
        spoilers: Spoilers { impossible: 75.0, apart: 2.0 },
    },
    Row {
        kind: PointKind::Cross,
        word: "cross",
        words: "tilt fore and aft",
        short: "fore and aft",
        quantity: Some(Kind::Angle),
        place: Place::Post,
        arrow: Arrow::AcrossSpan,
        disturbed_by: DisturbedBy::Feet,
        reference: Reference::AsRead,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Zero,
        judgement: Judgement::Cross,
        above: off("lower the leading edge", Go::Down),
        below: off("raise the leading edge", Go::Up),
        spoilers: Spoilers { impossible: 75.0, apart: 2.0 },
    },
    Row {
        kind: PointKind::Diagonal,
        word: "diagonal",
        words: "diagonal",
        short: "diagonal",
        quantity: Some(Kind::Length),
        place: Place::Diagonal,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::Nothing,
        reference: Reference::At20,
        sign: Sign::Positive,
        readings: Readings::OfOneState,
        design: Design::Unknown,
        judgement: Judgement::Square,
        above: off("this diagonal is long", Go::Nowhere),
        below: off("this diagonal is short", Go::Nowhere),
        spoilers: Spoilers { impossible: 9000.0, apart: 20.0 },
    },
    Row {
        kind: PointKind::Spacing,
        word: "spacing",
        words: "distance from the root datum",
        short: "distance from the root",
        quantity: Some(Kind::Length),
        place: Place::Station,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::Nothing,
        reference: Reference::At20,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Distance,
        judgement: Judgement::Spacing,
        above: off("bring it inboard", Go::Inboard),
        below: off("bring it outboard", Go::Outboard),
        spoilers: Spoilers { impossible: 90000.0, apart: 20.0 },
    },
    Row {
        kind: PointKind::Offset,
        word: "offset",
        words: "offset from the line",
        short: "offset from the line",
        quantity: Some(Kind::Length),
        place: Place::Spar,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::SupportsAndFeet,
        reference: Reference::AsRead,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Unknown,
        judgement: Judgement::Straightness,
        above: LOWER_IT,
        below: RAISE_IT,
        spoilers: Spoilers { impossible: 5000.0, apart: 10.0 },
    },
    Row {
        kind: PointKind::Walk,
        word: "walk",
        words: "slope of this step",
        short: "slope of this step",
        quantity: Some(Kind::Angle),
        place: Place::Spar,
        arrow: Arrow::AlongSpan,
        disturbed_by: DisturbedBy::SupportsAndFeet,
        reference: Reference::AsRead,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Unknown,
        judgement: Judgement::Straightness,
        above: off("this step climbs", Go::Down),
        below: off("this step falls", Go::Up),
        spoilers: Spoilers { impossible: 80.0, apart: 2.0 },
    },
    Row {
        kind: PointKind::Incidence,
        word: "incidence",
        words: "incidence",
        short: "incidence",
        quantity: Some(Kind::Angle),
        place: Place::Station,
        arrow: Arrow::AcrossSpan,
        disturbed_by: DisturbedBy::SupportsAndFeet,
        reference: Reference::AsRead,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Incidence,
        judgement: Judgement::Twist,
        above: off("turn the nose down", Go::Down),
        below: off("turn the nose up", Go::Up),
        spoilers: Spoilers { impossible: 260.0, apart: 2.0 },
    },
    Row {
        kind: PointKind::Height,
        word: "height",
        words: "height",
        short: "height",
        quantity: Some(Kind::Length),
        place: Place::Spar,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::SupportsAndFeet,
        reference: Reference::At20,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Unknown,
        judgement: Judgement::Twist,
        above: LOWER_IT,
        below: RAISE_IT,
        spoilers: Spoilers { impossible: 5000.0, apart: 20.0 },
    },
    Row {
        kind: PointKind::Plumb,
        word: "plumb",
        words: "distance from the plumb line",
        short: "from the plumb line",
        quantity: Some(Kind::Length),
        place: Place::Spar,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::SupportsAndFeet,
        reference: Reference::At20,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Unknown,
        judgement: Judgement::Twist,
        above: FORWARD,
        below: AFT,
        spoilers: Spoilers { impossible: 5000.0, apart: 20.0 },
    },
    Row {
        kind: PointKind::Bore,
        word: "bore",
        words: "diameter of the bore",
        short: "bore",
        quantity: Some(Kind::Length),
        place: Place::Bush,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::Nothing,
        reference: Reference::AsRead,
        sign: Sign::Positive,
        readings: Readings::OfOneState,
        design: Design::Bore,
        judgement: Judgement::Clearance,
        above: off("the bore is large", Go::Nowhere),
        below: off("the bore is small", Go::Nowhere),
        spoilers: Spoilers { impossible: -30.0, apart: 2.0 },
    },
    Row {
        kind: PointKind::BoreAft,
        word: "bore-aft",
        words: "centre of the bush, aft",
        short: "bush centre, aft",
        quantity: Some(Kind::Length),
        place: Place::Bush,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::SupportsAndFeet,
        reference: Reference::AsRead,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Unknown,
        judgement: Judgement::Clearance,
        above: FORWARD,
        below: AFT,
        spoilers: Spoilers { impossible: 90000.0, apart: 10.0 },
    },
    Row {
        kind: PointKind::BoreUp,
        word: "bore-up",
        words: "centre of the bush, up",
        short: "bush centre, up",
        quantity: Some(Kind::Length),
        place: Place::Bush,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::SupportsAndFeet,
        reference: Reference::AsRead,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Unknown,
        judgement: Judgement::Clearance,
        above: LOWER_IT,
        below: RAISE_IT,
        spoilers: Spoilers { impossible: 90000.0, apart: 10.0 },
    },
    Row {
        kind: PointKind::Spot,
        word: "spot",
        words: "spot check",
        short: "spot check",
        quantity: None,
        place: Place::Spot,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::Nothing,
        reference: Reference::AsRead,
        sign: Sign::Either,
        readings: Readings::ByQuantity,
        design: Design::Unknown,
        judgement: Judgement::OwnLimits,
        above: off("too much", Go::Nowhere),
        below: off("too little", Go::Nowhere),
        spoilers: Spoilers { impossible: 9000.0, apart: 60.0 },
    },
    rigging::PITCH,
    rigging::ROLL,
    rigging::DIHEDRAL,
    rigging::RIG_INCIDENCE,
    rigging::UPRIGHT,
    rigging::SWEEP,
    rigging::DISTANCE,
    rigging::NEUTRAL,
    rigging::TRAVEL_UP,
    rigging::TRAVEL_DOWN,
    rigging::PLAY,
    rigging::TENSION,
    rigging::DRAG,
    rigging::TORQUE,
];
