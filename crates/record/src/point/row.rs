//! The columns of a kind of point.

use crate::Facing;
use quantity::Kind;

/// Everything that distinguishes one kind of point. Each kind has one row; a row with a column missing does not
/// compile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// The word before the `@`.
    pub word: &'static str,
    /// What is measured, for use in a sentence.
    pub words: &'static str,
    /// The same, short, for use beside the name of its place.
    pub short: &'static str,
    /// The quantity of its readings; `None` if the plan decides.
    pub quantity: Option<Kind>,
    /// What it is measured on.
    pub place: Place,
    /// Whether the instrument can be turned end for end, and where its arrow points.
    pub arrow: Arrow,
    /// Which moves make its readings stale.
    pub disturbed_by: DisturbedBy,
    /// Whether its readings are brought to 20 °C.
    pub reference: Reference,
    /// Which values are possible.
    pub sign: Sign,
    /// Whether its readings measure one state repeatedly, or each is an event of its own.
    pub readings: Readings,
    /// Where its design value is in the plan.
    pub design: Design,
    /// What judges it.
    pub judgement: Judgement,
    /// What is wrong if the value is above the design.
    pub above: Off,
    /// What is wrong if it is below.
    pub below: Off,
    /// Readings that must make the gate hold whatever else is in order.
    pub spoilers: Spoilers,
    /// How it is measured.
    pub explained: Explained,
}

/// How a kind of point is measured, for someone who has never done it. Common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Explained {
    /// What follows the `@`.
    pub at: &'static str,
    /// How to measure it.
    pub how: &'static str,
    /// What is positive.
    pub sign: &'static str,
    /// Examples of typed values.
    pub typed: &'static str,
}

/// What a point is measured on; the text after the `@` names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// A post of the jig.
    Post,
    /// A diagonal of a bay.
    Diagonal,
    Station,
    /// A spar at a station, `rear:S9`.
    Spar,
    Bush,
    /// A spot check.
    Spot,
    /// A part of the rigged aeroplane: fuselage, part, control, cable, bolt or distance.
    Rig,
}

/// Where an instrument's arrow points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrow {
    /// The instrument has no facing here.
    None,
    /// Forward is toward the tip (outboard), aft toward the root.
    AlongSpan,
    /// Forward is toward the leading edge, aft toward the trailing edge.
    AcrossSpan,
    /// Forward is toward the nose of the fuselage.
    AlongFuselage,
    /// Forward is to the right of the fuselage.
    AcrossFuselage,
}

impl Arrow {
    /// Which way it points in a facing, as one word.
    #[must_use]
    pub const fn toward(self, facing: Facing) -> &'static str {
        match (self, facing) {
            (Self::AlongSpan, Facing::Forward) => "outboard",
            (Self::AlongSpan, Facing::Aft) => "inboard",
            (Self::AcrossFuselage, Facing::Forward) => "right",
            (Self::AcrossFuselage, Facing::Aft) => "left",
            (Self::None | Self::AcrossSpan | Self::AlongFuselage, Facing::Forward) => "forward",
            (Self::None | Self::AcrossSpan | Self::AlongFuselage, Facing::Aft) => "aft",
        }
    }

    /// How to lay the instrument to face forward.
    #[must_use]
    pub const fn forward(self) -> &'static str {
        match self {
            Self::AlongSpan => "arrow outboard",
            Self::AlongFuselage => "arrow to the nose",
            Self::AcrossFuselage => "arrow to the right",
            Self::None | Self::AcrossSpan => "arrow to the leading edge",
        }
    }
}

/// Which moves make readings stale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DisturbedBy {
    /// None: it is a property of the part.
    Nothing,
    /// A foot of the jig.
    Feet,
    /// A support that moves a spar aft, which can rack a bay, or a foot, which leans a post with its supports.
    AftAndFeet,
    /// A support of a spar, or a foot, which moves the jig with the wing.
    SupportsAndFeet,
}

/// Whether readings are corrected to 20 °C (ISO 1) if a temperature was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reference {
    /// They are used as read.
    AsRead,
    /// They are corrected to 20 °C.
    At20,
}

/// Which values a point can have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Either sign, and zero.
    Either,
    /// Above zero only.
    Positive,
}

/// How several readings of a point relate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Readings {
    /// Measurements of one state: they must agree, and are averaged.
    OfOneState,
    /// A torque is an event, and the last one counts; any other quantity is a state.
    ByQuantity,
}

/// Where the design value is in the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Design {
    /// The plan does not say.
    Unknown,
    Zero,
    /// The station's incidence; the fixture under the instrument is subtracted from the readings.
    Incidence,
    /// The station's distance from the root datum.
    Distance,
    /// The bush's bore.
    Bore,
    /// From its table: the angle, the distance between marks.
    Rig,
}

/// What judges a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Judgement {
    /// The tilt of its post along the span.
    Level,
    /// The tilt of its post fore and aft.
    Cross,
    /// The squareness of its bay.
    Square,
    /// The spacing of its station.
    Spacing,
    /// The straightness of its spar.
    Straightness,
    /// The twist of the wing at its station.
    Twist,
    /// The clearance of the shaft.
    Clearance,
    OwnLimits,
    /// The checks that the plan makes of the rigged aeroplane's points.
    Rigging,
}

/// What is wrong with a value that is off, and the direction that corrects it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Off {
    /// What to do, or what is wrong if no direction corrects it.
    pub words: &'static str,
    /// The direction in which to go.
    pub go: Go,
}

/// A direction on the wing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Go {
    /// Nothing is moved to correct it.
    Nowhere,
    Up,
    Down,
    Outboard,
    Inboard,
    Aft,
    Forward,
}

/// Readings that must make the gate hold whatever else is in order; the tests enter them in every way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spoilers {
    /// A value that no wing has, in the base unit.
    pub impossible: f64,
    /// Two readings of one thing cannot both be right if they are this far apart, in the base unit.
    pub apart: f64,
}

impl Row {
    /// Whether it is a distance from a datum set up for the measurement: a stretched line, a plumb line, a wire.
    #[must_use]
    pub const fn from_a_datum(&self) -> bool {
        let length = matches!(self.quantity, Some(Kind::Length)) && matches!(self.sign, Sign::Either);
        length && matches!(self.place, Place::Spar | Place::Bush)
    }

    /// Whether it is a step from one station to the next, which belongs to the outboard one.
    #[must_use]
    pub const fn is_step(&self) -> bool {
        matches!(self.judgement, Judgement::Straightness) && matches!(self.arrow, Arrow::AlongSpan)
    }

    /// Whether a reading of this quantity is an event: it replaces whatever was read before.
    #[must_use]
    pub fn is_event(&self, quantity: Kind) -> bool {
        match self.readings {
            Readings::OfOneState => false,
            Readings::ByQuantity => quantity == Kind::Torque,
        }
    }
}
