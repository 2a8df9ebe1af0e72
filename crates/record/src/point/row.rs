//! The columns of a kind of point.

use quantity::Kind;

/// Everything that sets one kind of point apart. Each kind has one row; a row with a column missing does not compile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// The word before the `@`.
    pub word: &'static str,
    /// What is measured, for a sentence.
    pub words: &'static str,
    /// The same where room is short, beside the name of its place.
    pub short: &'static str,
    /// The quantity of its readings; none where the plan says.
    pub quantity: Option<Kind>,
    /// What carries it.
    pub place: Place,
    /// Whether the instrument can be turned end for end, and what its arrow then points at.
    pub arrow: Arrow,
    /// What moves make its readings stale.
    pub disturbed_by: DisturbedBy,
    /// Whether its readings are brought to 20 °C.
    pub reference: Reference,
    /// Which values it can have.
    pub sign: Sign,
    /// Whether its readings measure one state again and again, or each is an event of its own.
    pub readings: Readings,
    /// What it should be by the plan.
    pub design: Design,
    /// What judges it.
    pub judgement: Judgement,
    /// What is wrong where the value is above the design.
    pub above: Off,
    /// What is wrong where it is below.
    pub below: Off,
    /// Readings that must hold the gate whatever else is in order.
    pub spoilers: Spoilers,
    /// How it is measured.
    pub explained: Explained,
}

/// How a kind of point is measured, for a person who has never done it. Common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Explained {
    /// What follows the `@`.
    pub at: &'static str,
    /// How to measure it.
    pub how: &'static str,
    /// What is positive.
    pub sign: &'static str,
    /// Values as they are typed.
    pub typed: &'static str,
}

/// What carries a point, which is what the part after the `@` names.
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
    /// Something of the rigged aeroplane: fuselage, part, control, cable, bolt or distance.
    Rig,
}

/// What an instrument's arrow points at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Arrow {
    /// The instrument has no facing there.
    None,
    /// Forward is toward the tip, aft toward the root.
    AlongSpan,
    /// Forward is toward the leading edge, aft toward the trailing edge.
    AcrossSpan,
}

/// What moves make readings stale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DisturbedBy {
    /// No move: it is a property of the part.
    Nothing,
    /// A foot of the jig.
    Feet,
    /// A support of a spar, and a foot, which moves the jig with the wing.
    SupportsAndFeet,
}

/// Whether readings are brought to 20 °C (ISO 1), where a temperature was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reference {
    /// They count as they were read.
    AsRead,
    /// They are brought to 20 °C.
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

/// What several readings of a point are to one another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Readings {
    /// Measurements of one state: they must agree, and are averaged.
    OfOneState,
    /// By quantity: a torque is an event and the last one counts, anything else is a state.
    ByQuantity,
}

/// What a point should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Design {
    /// The plan does not say.
    Unknown,
    Zero,
    /// The station's incidence; what the instrument stands on there is taken off its readings.
    Incidence,
    /// The station's distance from the root datum.
    Distance,
    /// The bush's bore.
    Bore,
    /// As its table says: the angle, the distance between marks.
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
    /// What the plan makes of the rigged aeroplane's points.
    Rigging,
}

/// What is wrong with a value that is off, and the direction that mends it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Off {
    /// What to do, or what is wrong where no direction mends it.
    pub words: &'static str,
    /// The direction in which to go.
    pub go: Go,
}

/// A direction on the wing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Go {
    /// None: nothing is moved to mend it.
    Nowhere,
    Up,
    Down,
    Outboard,
    Inboard,
    Aft,
    Forward,
}

/// Readings that must hold the gate whatever else is in order; the tests put them in by every way in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spoilers {
    /// A value that no wing has, in the unit used inside.
    pub impossible: f64,
    /// How far apart two readings of one thing are that cannot both be right, in the unit used inside.
    pub apart: f64,
}

impl Row {
    /// True where it is a distance from a datum that was set up for the measurement: a stretched line, a plumb line, a wire.
    #[must_use]
    pub const fn from_a_datum(&self) -> bool {
        let length = matches!(self.quantity, Some(Kind::Length)) && matches!(self.sign, Sign::Either);
        length && matches!(self.place, Place::Spar | Place::Bush)
    }

    /// True where it is a step from one station to the next, and belongs to the outboard one.
    #[must_use]
    pub const fn is_step(&self) -> bool {
        matches!(self.judgement, Judgement::Straightness) && matches!(self.arrow, Arrow::AlongSpan)
    }

    /// True where a reading of this quantity is an event: it says how the thing is now, whatever was read before.
    #[must_use]
    pub fn is_event(&self, quantity: Kind) -> bool {
        match self.readings {
            Readings::OfOneState => false,
            Readings::ByQuantity => quantity == Kind::Torque,
        }
    }
}
