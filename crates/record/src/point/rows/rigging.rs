//! The kinds of point of a rigged aeroplane. What stands in the middle (fuselage, fin) has its outboard end to the right.

use super::off;
use crate::point::kind::PointKind;
use crate::point::row::{
    Arrow, Design, DisturbedBy, Go, Judgement, Place, Readings, Reference, Row, Sign, Spoilers,
};
use quantity::Kind;

/// What the kinds have in common: an angle that is read as it is.
const ANGLE: Row = Row {
    kind: PointKind::Pitch,
    word: "",
    words: "",
    short: "",
    quantity: Some(Kind::Angle),
    place: Place::Rig,
    arrow: Arrow::None,
    disturbed_by: DisturbedBy::Nothing,
    reference: Reference::AsRead,
    sign: Sign::Either,
    readings: Readings::OfOneState,
    design: Design::Rig,
    judgement: Judgement::Rigging,
    above: off("", Go::Nowhere),
    below: off("", Go::Nowhere),
    spoilers: Spoilers { impossible: 75.0, apart: 2.0 },
};
const LENGTH: Row =
    Row { quantity: Some(Kind::Length), spoilers: Spoilers { impossible: 90000.0, apart: 20.0 }, ..ANGLE };
const MOMENT: Row =
    Row { quantity: Some(Kind::Torque), spoilers: Spoilers { impossible: -5.0, apart: 60.0 }, ..ANGLE };

pub(super) const PITCH: Row = Row {
    kind: PointKind::Pitch,
    word: "pitch",
    words: "pitch",
    short: "nose up",
    arrow: Arrow::AcrossSpan,
    above: off("lower the nose", Go::Down),
    below: off("raise the nose", Go::Up),
    ..ANGLE
};
pub(super) const ROLL: Row = Row {
    kind: PointKind::Roll,
    word: "roll",
    words: "roll",
    short: "right side up",
    arrow: Arrow::AlongSpan,
    above: off("lower the right side", Go::Down),
    below: off("raise the right side", Go::Up),
    ..ANGLE
};
pub(super) const DIHEDRAL: Row = Row {
    kind: PointKind::Dihedral,
    word: "dihedral",
    words: "dihedral",
    short: "dihedral",
    arrow: Arrow::AlongSpan,
    above: off("lower the tip", Go::Down),
    below: off("raise the tip", Go::Up),
    ..ANGLE
};
pub(super) const RISE: Row = Row {
    kind: PointKind::Rise,
    word: "rise",
    words: "dihedral",
    short: "outer mark over inner",
    above: off("lower the tip", Go::Down),
    below: off("raise the tip", Go::Up),
    ..LENGTH
};
pub(super) const RIG_INCIDENCE: Row = Row {
    kind: PointKind::RigIncidence,
    word: "rig-incidence",
    words: "incidence",
    short: "incidence",
    arrow: Arrow::AcrossSpan,
    above: off("turn the nose down", Go::Down),
    below: off("turn the nose up", Go::Up),
    ..ANGLE
};
pub(super) const UPRIGHT: Row = Row {
    kind: PointKind::Upright,
    word: "upright",
    words: "lean",
    short: "lean to the right",
    arrow: Arrow::AlongSpan,
    above: off("it leans to the right", Go::Nowhere),
    below: off("it leans to the left", Go::Nowhere),
    ..ANGLE
};
pub(super) const SWEEP: Row = Row {
    kind: PointKind::Sweep,
    word: "sweep",
    words: "sweep",
    short: "between plumb lines",
    above: off("bring the tip forward", Go::Forward),
    below: off("bring the tip aft", Go::Aft),
    ..LENGTH
};
pub(super) const DISTANCE: Row = Row {
    kind: PointKind::Distance,
    word: "distance",
    words: "distance",
    short: "distance",
    reference: Reference::At20,
    sign: Sign::Positive,
    above: off("this distance is long", Go::Nowhere),
    below: off("this distance is short", Go::Nowhere),
    ..LENGTH
};
pub(super) const NEUTRAL: Row = Row {
    kind: PointKind::Neutral,
    word: "neutral",
    words: "neutral",
    short: "at neutral",
    above: off("it hangs high at neutral", Go::Nowhere),
    below: off("it hangs low at neutral", Go::Nowhere),
    ..ANGLE
};
pub(super) const TRAVEL_UP: Row = Row {
    kind: PointKind::TravelUp,
    word: "travel-up",
    words: "travel up",
    short: "at full up",
    quantity: None,
    above: off("the travel up is long", Go::Nowhere),
    below: off("the travel up is short", Go::Nowhere),
    spoilers: Spoilers { impossible: 85.0, apart: 2.0 },
    ..ANGLE
};
pub(super) const TRAVEL_DOWN: Row = Row {
    kind: PointKind::TravelDown,
    word: "travel-down",
    words: "travel down",
    short: "at full down",
    quantity: None,
    above: off("the travel down is long", Go::Nowhere),
    below: off("the travel down is short", Go::Nowhere),
    spoilers: Spoilers { impossible: 85.0, apart: 2.0 },
    ..ANGLE
};
pub(super) const PLAY: Row = Row {
    kind: PointKind::Play,
    word: "play",
    words: "free play",
    short: "free play",
    above: off("there is too much play", Go::Nowhere),
    below: off("there is too little play", Go::Nowhere),
    spoilers: Spoilers { impossible: 5000.0, apart: 20.0 },
    ..LENGTH
};
pub(super) const TENSION: Row = Row {
    kind: PointKind::Tension,
    word: "tension",
    words: "tension",
    short: "tension",
    quantity: Some(Kind::Force),
    sign: Sign::Positive,
    above: off("slacken it", Go::Nowhere),
    below: off("tighten it", Go::Nowhere),
    spoilers: Spoilers { impossible: 9000.0, apart: 200.0 },
    ..ANGLE
};
pub(super) const DRAG: Row = Row {
    kind: PointKind::Drag,
    word: "drag",
    words: "drag",
    short: "drag of the nut",
    above: off("the nut drags hard", Go::Nowhere),
    below: off("the nut drags little", Go::Nowhere),
    ..MOMENT
};
pub(super) const TORQUE: Row = Row {
    kind: PointKind::Torque,
    word: "torque",
    words: "torque",
    short: "torque",
    readings: Readings::ByQuantity,
    above: off("slacken it", Go::Nowhere),
    below: off("tighten it", Go::Nowhere),
    ..MOMENT
};
