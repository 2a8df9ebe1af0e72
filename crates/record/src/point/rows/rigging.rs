//! The kinds of point of a rigged aeroplane. Parts in the middle (fuselage, fin) have their outboard end to the
//! right.

use super::{ANGLES, LENGTHS, off};
use crate::point::row::{
    Arrow, Design, DisturbedBy, Explained, Go, Judgement, Off, Place, Readings, Reference, Row, Sign,
    Spoilers,
};
use quantity::Kind;

const TORQUES: &str = "36.0   318 in-lb   26.5 ft-lb";

/// The columns that differ between the kinds; see [`Row`] for their meaning.
struct Said {
    word: &'static str,
    words: &'static str,
    short: &'static str,
    above: Off,
    below: Off,
    explained: Explained,
}

/// An angle that needs no conversion.
const fn angle(said: Said) -> Row {
    let Said { word, words, short, above, below, explained } = said;
    Row {
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
        explained,
    }
}

const fn length(said: Said) -> Row {
    Row {
        quantity: Some(Kind::Length),
        spoilers: Spoilers { impossible: 90000.0, apart: 20.0 },
        ..angle(said)
    }
}

const fn moment(said: Said) -> Row {
    Row { quantity: Some(Kind::Torque), spoilers: Spoilers { impossible: -5.0, apart: 60.0 }, ..angle(said) }
}

pub(in crate::point) const PITCH: Row = Row {
    arrow: Arrow::AlongFuselage,
    ..angle(Said {
        word: "pitch",
        words: "pitch",
        short: "nose up",
        above: off("lower the nose", Go::Down),
        below: off("raise the nose", Go::Up),
        explained: Explained {
            at: "FUSELAGE",
            how: "Lay the level fore and aft on the fuselage's levelling points. Forward: its arrow points to the nose. \
                  Read; turn it end for end; read (aft). Its tilt is taken off every angle of the aeroplane.",
            sign: "Nose up is +. The facing turns the sign, not you.",
            typed: ANGLES,
        },
    })
};

pub(in crate::point) const ROLL: Row = Row {
    arrow: Arrow::AcrossFuselage,
    ..angle(Said {
        word: "roll",
        words: "roll",
        short: "right side up",
        above: off("lower the right side", Go::Down),
        below: off("raise the right side", Go::Up),
        explained: Explained {
            at: "FUSELAGE",
            how: "Lay the level across the fuselage's levelling points. Forward: its arrow points to the right. Read; turn \
                  it end for end; read (aft). Its tilt is taken off every angle of the aeroplane.",
            sign: "Right side up is +. The facing turns the sign, not you.",
            typed: ANGLES,
        },
    })
};

pub(in crate::point) const DIHEDRAL: Row = Row {
    arrow: Arrow::AlongSpan,
    ..angle(Said {
        word: "dihedral",
        words: "dihedral",
        short: "dihedral",
        above: off("lower the tip", Go::Down),
        below: off("raise the tip", Go::Up),
        explained: Explained {
            at: "PART",
            how: "Lay the level along the span where the type's data say. Forward: its arrow points outboard. Read; turn \
                  it end for end; read (aft).",
            sign: "Outboard end up is +, on either side. The facing turns the sign, not you.",
            typed: ANGLES,
        },
    })
};

pub(in crate::point) const RISE: Row = length(Said {
    word: "rise",
    words: "dihedral",
    short: "outer mark over inner",
    above: off("lower the tip", Go::Down),
    below: off("raise the tip", Go::Up),
    explained: Explained {
        at: "PART",
        how: "Take the heights of the two marks that the plan's base lies between, by a level line, a water level or a \
              rule from the same floor, and type the outer one's less the inner one's.",
        sign: "Outboard end up is +, on either side.",
        typed: LENGTHS,
    },
});

pub(in crate::point) const RIG_INCIDENCE: Row = Row {
    arrow: Arrow::AcrossSpan,
    ..angle(Said {
        word: "rig-incidence",
        words: "incidence",
        short: "incidence",
        above: off("turn the nose down", Go::Down),
        below: off("turn the nose up", Go::Up),
        explained: Explained {
            at: "PART",
            how: "Lay the level, or the board that the type's data give, along the section. Forward: its arrow points to \
                  the leading edge. Read; turn it end for end; read (aft).",
            sign: "Nose up is +. The facing turns the sign, not you.",
            typed: ANGLES,
        },
    })
};

pub(in crate::point) const UPRIGHT: Row = Row {
    arrow: Arrow::AcrossFuselage,
    ..angle(Said {
        word: "upright",
        words: "lean",
        short: "lean to the right",
        above: off("it leans to the right", Go::Nowhere),
        below: off("it leans to the left", Go::Nowhere),
        explained: Explained {
            at: "PART",
            how: "Lay the level against the fin or post. Read; turn it end for end on the same place; read (aft).",
            sign: "The top leaning to the right is +. The facing turns the sign, not you.",
            typed: ANGLES,
        },
    })
};

pub(in crate::point) const SWEEP: Row = length(Said {
    word: "sweep",
    words: "sweep",
    short: "between plumb lines",
    above: off("bring the tip forward", Go::Forward),
    below: off("bring the tip aft", Go::Aft),
    explained: Explained {
        at: "PART",
        how: "Hang two plumb lines from the leading edge, as far apart as the plan's base, and measure how far aft of \
              a line across the aeroplane through the inner one the outer one hangs.",
        sign: "Aft is +.",
        typed: LENGTHS,
    },
});

pub(in crate::point) const DISTANCE: Row = Row {
    reference: Reference::At20,
    sign: Sign::Positive,
    ..length(Said {
        word: "distance",
        words: "distance",
        short: "distance",
        above: off("this distance is long", Go::Nowhere),
        below: off("this distance is short", Go::Nowhere),
        explained: Explained {
            at: "DISTANCE",
            how: "Measure between the two marks with the tape straight and pulled as it was calibrated. Left and right one \
                  after the other.",
            sign: "A length, always above zero.",
            typed: LENGTHS,
        },
    })
};

pub(in crate::point) const NEUTRAL: Row = angle(Said {
    word: "neutral",
    words: "neutral",
    short: "at neutral",
    above: off("it is high at neutral", Go::Nowhere),
    below: off("it is low at neutral", Go::Nowhere),
    explained: Explained {
        at: "CONTROL",
        how: "Hold the control at neutral by its pin or mark and read the surface. For a surface with a chord in the \
              plan it is a length.",
        sign: "Trailing edge up (a rudder's to the left) is +.",
        typed: ANGLES,
    },
});

pub(in crate::point) const TRAVEL_UP: Row = Row {
    quantity: None,
    spoilers: Spoilers { impossible: 85.0, apart: 2.0 },
    ..angle(Said {
        word: "travel-up",
        words: "travel up",
        short: "at full up",
        above: off("the travel up is too long", Go::Nowhere),
        below: off("the travel up is too short", Go::Nowhere),
        explained: Explained {
            at: "CONTROL",
            how: "Move the surface to its stop up (a rudder's to the left) and read it with the same level on the same \
                  place as at neutral; or the length at the trailing edge, where the plan has a chord.",
            sign: "As the level shows it; what counts is its distance from neutral.",
            typed: "19.5   19°30'   52.0 mm",
        },
    })
};

pub(in crate::point) const TRAVEL_DOWN: Row = Row {
    quantity: None,
    spoilers: Spoilers { impossible: 85.0, apart: 2.0 },
    ..angle(Said {
        word: "travel-down",
        words: "travel down",
        short: "at full down",
        above: off("the travel down is too long", Go::Nowhere),
        below: off("the travel down is too short", Go::Nowhere),
        explained: Explained {
            at: "CONTROL",
            how: "Move the surface to its stop down (a rudder's to the right) and read it with the same level on the same \
                  place as at neutral; or the length at the trailing edge, where the plan has a chord.",
            sign: "As the level shows it; what counts is its distance from neutral.",
            typed: "-14.5   14°30'   40.0 mm",
        },
    })
};

pub(in crate::point) const PLAY: Row = Row {
    spoilers: Spoilers { impossible: 5000.0, apart: 20.0 },
    ..length(Said {
        word: "play",
        words: "free play",
        short: "free play",
        above: off("there is too much play", Go::Nowhere),
        below: off("there is too little play", Go::Nowhere),
        explained: Explained {
            at: "CONTROL",
            how: "Lock the control and move the trailing edge by hand from one end of its free play to the other, without \
                  force.",
            sign: "A length, zero or more.",
            typed: LENGTHS,
        },
    })
};

pub(in crate::point) const TENSION: Row = Row {
    quantity: Some(Kind::Force),
    sign: Sign::Positive,
    spoilers: Spoilers { impossible: 9000.0, apart: 200.0 },
    ..angle(Said {
        word: "tension",
        words: "tension",
        short: "tension",
        above: off("slacken it", Go::Nowhere),
        below: off("tighten it", Go::Nowhere),
        explained: Explained {
            at: "CABLE",
            how: "Clip the tensiometer on the cable, clear of fittings and pulleys. Type the temperature beside it with \
                  --temp, where the plan has a chart.",
            sign: "A force, always above zero.",
            typed: "60 lbf   267 N   27.2 kgf",
        },
    })
};

pub(in crate::point) const DRAG: Row = moment(Said {
    word: "drag",
    words: "drag",
    short: "drag of the nut",
    above: off("the nut drags too much", Go::Nowhere),
    below: off("the nut drags too little", Go::Nowhere),
    explained: Explained {
        at: "BOLT",
        how: "Put the wrench straight on the nut, without the extension, run it down, and read what it takes \
            before it seats.",
        sign: "A torque, zero or more.",
        typed: TORQUES,
    },
});

pub(in crate::point) const TORQUE: Row = Row {
    readings: Readings::ByQuantity,
    ..moment(Said {
        word: "torque",
        words: "torque",
        short: "torque",
        above: off("slacken it", Go::Nowhere),
        below: off("tighten it", Go::Nowhere),
        explained: Explained {
            at: "BOLT",
            how: "Tighten with the wrench and type what it shows; the plan's lever and extension, and its rule for the \
                  drag, are allowed for.",
            sign: "A torque, always above zero. The last one counts.",
            typed: TORQUES,
        },
    })
};
