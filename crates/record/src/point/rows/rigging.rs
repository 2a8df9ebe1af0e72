//! The kinds of point of a rigged aeroplane. What stands in the middle (fuselage, fin) has its outboard end to the right.

use super::off;
use crate::point::kind::PointKind;
use crate::point::row::{
    Arrow, Design, DisturbedBy, Go, Judgement, Off, Place, Readings, Reference, Row, Sign, Spoilers,
};
use quantity::Kind;

/// What its row says of a kind in words.
struct Words {
    word: &'static str,
    words: &'static str,
    short: &'static str,
}

/// An angle that is read in one state and has no arrow; a row says in what else it differs.
const fn rig(kind: PointKind, Words { word, words, short }: Words, above: Off, below: Off) -> Row {
    Row {
        kind,
        word,
        words,
        short,
        quantity: Some(Kind::Angle),
        place: Place::Rig,
        arrow: Arrow::None,
        disturbed_by: DisturbedBy::Nothing,
        reference: Reference::AsRead,
        sign: Sign::Either,
        readings: Readings::OfOneState,
        design: Design::Rig,
        judgement: Judgement::Rigging,
        above,
        below,
        spoilers: Spoilers { impossible: 75.0, apart: 2.0 },
    }
}

pub(super) const PITCH: Row = Row {
    arrow: Arrow::AcrossSpan,
    ..rig(
        PointKind::Pitch,
        Words { word: "pitch", words: "pitch", short: "nose up" },
        off("lower the nose", Go::Down),
        off("raise the nose", Go::Up),
    )
};
pub(super) const ROLL: Row = Row {
    arrow: Arrow::AlongSpan,
    ..rig(
        PointKind::Roll,
        Words { word: "roll", words: "roll", short: "right side up" },
        off("lower the right side", Go::Down),
        off("raise the right side", Go::Up),
    )
};
pub(super) const DIHEDRAL: Row = Row {
    arrow: Arrow::AlongSpan,
    ..rig(
        PointKind::Dihedral,
        Words { word: "dihedral", words: "dihedral", short: "dihedral" },
        off("lower the tip", Go::Down),
        off("raise the tip", Go::Up),
    )
};
pub(super) const RIG_INCIDENCE: Row = Row {
    arrow: Arrow::AcrossSpan,
    ..rig(
        PointKind::RigIncidence,
        Words { word: "rig-incidence", words: "incidence", short: "incidence" },
        off("turn the nose down", Go::Down),
        off("turn the nose up", Go::Up),
    )
};
pub(super) const UPRIGHT: Row = Row {
    arrow: Arrow::AlongSpan,
    ..rig(
        PointKind::Upright,
        Words { word: "upright", words: "lean", short: "lean to the right" },
        off("it leans to the right", Go::Nowhere),
        off("it leans to the left", Go::Nowhere),
    )
};
pub(super) const SWEEP: Row = Row {
    quantity: Some(Kind::Length),
    spoilers: Spoilers { impossible: 90000.0, apart: 20.0 },
    ..rig(
        PointKind::Sweep,
        Words { word: "sweep", words: "sweep", short: "between plumb lines" },
        off("bring the tip forward", Go::Forward),
        off("bring the tip aft", Go::Aft),
    )
};
pub(super) const DISTANCE: Row = Row {
    quantity: Some(Kind::Length),
    reference: Reference::At20,
    sign: Sign::Positive,
    spoilers: Spoilers { impossible: 90000.0, apart: 20.0 },
    ..rig(
        PointKind::Distance,
        Words { word: "distance", words: "distance", short: "distance" },
        off("this distance is long", Go::Nowhere),
        off("this distance is short", Go::Nowhere),
    )
};
pub(super) const NEUTRAL: Row = rig(
    PointKind::Neutral,
    Words { word: "neutral", words: "neutral", short: "at neutral" },
    off("it hangs high at neutral", Go::Nowhere),
    off("it hangs low at neutral", Go::Nowhere),
);
pub(super) const TRAVEL_UP: Row = Row {
    quantity: None,
    spoilers: Spoilers { impossible: 85.0, apart: 2.0 },
    ..rig(
        PointKind::TravelUp,
        Words { word: "travel-up", words: "travel up", short: "at full up" },
        off("the travel up is long", Go::Nowhere),
        off("the travel up is short", Go::Nowhere),
    )
};
pub(super) const TRAVEL_DOWN: Row = Row {
    quantity: None,
    spoilers: Spoilers { impossible: 85.0, apart: 2.0 },
    ..rig(
        PointKind::TravelDown,
        Words { word: "travel-down", words: "travel down", short: "at full down" },
        off("the travel down is long", Go::Nowhere),
        off("the travel down is short", Go::Nowhere),
    )
};
pub(super) const PLAY: Row = Row {
    quantity: Some(Kind::Length),
    spoilers: Spoilers { impossible: 5000.0, apart: 20.0 },
    ..rig(
        PointKind::Play,
        Words { word: "play", words: "free play", short: "free play" },
        off("there is too much play", Go::Nowhere),
        off("there is too little play", Go::Nowhere),
    )
};
pub(super) const TENSION: Row = Row {
    quantity: Some(Kind::Force),
    sign: Sign::Positive,
    spoilers: Spoilers { impossible: 9000.0, apart: 200.0 },
    ..rig(
        PointKind::Tension,
        Words { word: "tension", words: "tension", short: "tension" },
        off("slacken it", Go::Nowhere),
        off("tighten it", Go::Nowhere),
    )
};
pub(super) const DRAG: Row = Row {
    quantity: Some(Kind::Torque),
    spoilers: Spoilers { impossible: -5.0, apart: 60.0 },
    ..rig(
        PointKind::Drag,
        Words { word: "drag", words: "drag", short: "drag of the nut" },
        off("the nut drags hard", Go::Nowhere),
        off("the nut drags little", Go::Nowhere),
    )
};
pub(super) const TORQUE: Row = Row {
    quantity: Some(Kind::Torque),
    readings: Readings::ByQuantity,
    spoilers: Spoilers { impossible: -5.0, apart: 60.0 },
    ..rig(
        PointKind::Torque,
        Words { word: "torque", words: "torque", short: "torque" },
        off("slacken it", Go::Nowhere),
        off("tighten it", Go::Nowhere),
    )
};
