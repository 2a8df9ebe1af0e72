//! Posts, bays, stations along the span, and spars.

use super::{ANGLES, LENGTHS, LOWER_IT, RAISE_IT, off};
use crate::point::row::{
    Arrow, Design, DisturbedBy, Explained, Go, Judgement, Place, Readings, Reference, Row, Sign, Spoilers,
};
use quantity::Kind;

pub(in crate::point) const LEVEL: Row = Row {
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
    explained: Explained {
        at: "POST",
        how: "Lay the level along the span on the post or rail. Forward: its arrow points outboard. Read; turn it end for \
              end on the same spot; read (aft).",
        sign: "Outboard end up is +. Type what the level shows: the facing turns the sign, not you.",
        typed: ANGLES,
    },
};

pub(in crate::point) const CROSS: Row = Row {
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
    explained: Explained {
        at: "POST",
        how: "Lay the level fore and aft on the post or rail. Forward: its arrow points to the leading edge. Read; turn it \
              end for end on the same spot; read (aft).",
        sign: "Leading edge up is +. Type what the level shows: the facing turns the sign, not you.",
        typed: ANGLES,
    },
};

pub(in crate::point) const DIAGONAL: Row = Row {
    word: "diagonal",
    words: "diagonal",
    short: "diagonal",
    quantity: Some(Kind::Length),
    place: Place::Diagonal,
    arrow: Arrow::None,
    disturbed_by: DisturbedBy::AftAndFeet,
    reference: Reference::At20,
    sign: Sign::Positive,
    readings: Readings::OfOneState,
    design: Design::Unknown,
    judgement: Judgement::Square,
    above: off("this diagonal is long", Go::Nowhere),
    below: off("this diagonal is short", Go::Nowhere),
    spoilers: Spoilers { impossible: 9000.0, apart: 20.0 },
    explained: Explained {
        at: "DIAGONAL",
        how: "Measure from corner to opposite corner of the bay, between the same two marks as the plan's sides, the tape \
              straight and pulled as it was calibrated. Both diagonals, one after the other.",
        sign: "A length, always above zero. Their difference shows the angle out of square.",
        typed: LENGTHS,
    },
};

pub(in crate::point) const SPACING: Row = Row {
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
    explained: Explained {
        at: "STATION",
        how: "Measure along the span from the root datum to the station's rib, not from rib to rib: hook the tape at the \
              datum once and read every station. Type the part's temperature with --temp to have it taken to 20 °C.",
        sign: "Outboard is +. At a station on the root datum it is 0.",
        typed: LENGTHS,
    },
};

pub(in crate::point) const OFFSET: Row = Row {
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
    explained: Explained {
        at: "SPAR:STATION",
        how: "Stretch a line along the spar, clear of it, and measure from the line to the spar at each station, always on \
              the same side and to the same edge. The straight through the ends is taken out, so the line need not be \
              parallel.",
        sign: "Aft or up of the line is +, by the direction of the plan's [[line]].",
        typed: LENGTHS,
    },
};

pub(in crate::point) const WALK: Row = Row {
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
    explained: Explained {
        at: "SPAR:STATION",
        how: "Walk a level along the spar from the root, its feet from one station to the next. The reading belongs to the \
              outboard station of the step. Forward: its arrow points outboard.",
        sign: "Outboard end up is +. The facing turns the sign, not you.",
        typed: ANGLES,
    },
};
