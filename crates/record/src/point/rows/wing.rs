//! The section, the bushes and spot checks.

use super::{AFT, ANGLES, FORWARD, LENGTHS, LOWER_IT, RAISE_IT, off};
use crate::point::row::{
    Arrow, Design, DisturbedBy, Explained, Go, Judgement, Place, Readings, Reference, Row, Sign, Spoilers,
};
use quantity::Kind;

pub(in crate::point) const INCIDENCE: Row = Row {
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
    explained: Explained {
        at: "STATION",
        how: "Lay the level on the rib's datum marks. Forward: its arrow points to the leading edge. Read; turn it end for \
              end on the same marks; read (aft).",
        sign: "Nose up is +. Type what it shows. For a rib 2° nose up, forward shows +2.00 and aft -2.00: the facing turns \
              the sign, not you.",
        typed: ANGLES,
    },
};

pub(in crate::point) const HEIGHT: Row = Row {
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
    explained: Explained {
        at: "SPAR:STATION",
        how: "Measure up from one common datum (a levelled table, a laser, a water level) to the spar at the station. \
              Twist comes from front - rear, so both spars of a station are measured from the same datum.",
        sign: "Up is +.",
        typed: LENGTHS,
    },
};

pub(in crate::point) const PLUMB: Row = Row {
    word: "plumb",
    words: "distance from the plumb line",
    short: "from the plumb line",
    above: FORWARD,
    below: AFT,
    explained: Explained {
        at: "SPAR:STATION",
        how: "Wing on edge. Hang the line on the lower-surface side (or the side that the plan's plumb_side names), clear \
              of the wing, and measure level from the line to the web of each spar. Twist comes from front - rear.",
        sign: "From a line on the lower-surface side, away from it and toward the upper surface is +. With plumb_side = \
              \"upper\" the program turns the sign; type every distance as it is.",
        typed: LENGTHS,
    },
    ..HEIGHT
};

pub(in crate::point) const BORE: Row = Row {
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
    above: off("the bore is too large", Go::Nowhere),
    below: off("the bore is too small", Go::Nowhere),
    spoilers: Spoilers { impossible: -30.0, apart: 2.0 },
    explained: Explained {
        at: "BUSH",
        how: "Measure the bush's bore, in two directions at a right angle, and type the smaller one.",
        sign: "A diameter, always above zero.",
        typed: LENGTHS,
    },
};

pub(in crate::point) const BORE_AFT: Row = Row {
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
    explained: Explained {
        at: "BUSH",
        how: "Measure the centre of the bush fore and aft from one common datum: a stretched wire, a straight edge, a \
              telescope. Any datum will do, the same for every bush.",
        sign: "Aft is +.",
        typed: LENGTHS,
    },
};

pub(in crate::point) const BORE_UP: Row = Row {
    word: "bore-up",
    words: "centre of the bush, up",
    short: "bush centre, up",
    above: LOWER_IT,
    below: RAISE_IT,
    explained: Explained {
        at: "BUSH",
        how: "Measure the centre of the bush up and down from one common datum: a stretched wire, a straight edge, a \
              telescope. Any datum will do, the same for every bush.",
        sign: "Up is +.",
        typed: LENGTHS,
    },
    ..BORE_AFT
};

pub(in crate::point) const SPOT: Row = Row {
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
    explained: Explained {
        at: "SPOT",
        how: "Measure it as the maker's data say. A torque is an event: the last one counts. Anything else is a state: \
              readings of it must agree.",
        sign: "As its limits in the plan.",
        typed: "9.4   84 in-lb   0.12   5/64 in   21 °C",
    },
};
