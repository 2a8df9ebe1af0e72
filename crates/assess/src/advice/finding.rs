//! What is out or not decided, and what mends it, as values.

use super::feet::{Axis, FootMove, Lack};
use crate::view::{ObligationKind, ObligationState};
use serde::Serialize;

/// One thing that is outside, undecided, doubtful or cannot be judged, with what to do about it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// What sort of thing.
    pub kind: ObligationKind,
    /// Its name in the plan.
    pub about: String,
    /// What was found.
    pub state: ObligationState,
    /// What was found, for a person.
    pub words: String,
    /// Other things that go with it: what mends one mends the other.
    pub with: Vec<String>,
    /// What to do.
    pub remedy: Remedy,
    /// The same in sentences, and why; in the order to read them.
    pub mend: Vec<String>,
}

/// What mends a finding. Lengths in mm, positive aft, up and outboard.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "do", rename_all = "snake_case")]
pub enum Remedy {
    /// Move the supports as the advice's steps say.
    Supports,
    /// Move feet of a post.
    Feet {
        post: String,
        /// The moves, in the order to make them.
        moves: Vec<FootMove>,
        /// What its feet cannot do.
        lacks: Vec<Lack>,
        /// The tilts after the moves.
        expect: Vec<TiltExpected>,
    },
    /// Move supports of a spar that is bowed, for they hold it bowed.
    Spar {
        spar: String,
        moves: Vec<SparMove>,
        /// Width of the minimum zone that should be left.
        expected_mm: f64,
    },
    /// Move one bush.
    Bush {
        bush: String,
        /// How far aft.
        aft_mm: f64,
        /// How far up.
        up_mm: f64,
    },
    /// Shift one side of a bay along itself.
    Square {
        /// The longer diagonal: its corners go toward each other.
        longer: String,
        /// How far the side shifts.
        shift_mm: f64,
    },
    /// Move a station along the span.
    Station {
        /// How far outboard.
        outboard_mm: f64,
    },
    /// Work on the thing itself; no move mends it.
    Rework {
        /// What it should come to, at least, in the thing's own unit.
        at_least: Option<f64>,
        /// What it should come to, at most.
        at_most: Option<f64>,
    },
    /// Measure again, or what is missing.
    Measure { points: Vec<String> },
    /// Put the record in order (an instrument, an item left open, the log itself).
    Record,
    /// Nothing that the plan lists mends it; the sentences say what else would.
    Nothing,
}

impl Remedy {
    /// True if it asks for a hand on the jig or the wing, not for another reading.
    #[must_use]
    pub const fn acts(&self) -> bool {
        match self {
            Self::Supports
            | Self::Feet { .. }
            | Self::Spar { .. }
            | Self::Bush { .. }
            | Self::Square { .. }
            | Self::Station { .. }
            | Self::Rework { .. }
            | Self::Nothing => true,
            Self::Measure { .. } | Self::Record => false,
        }
    }

    /// True if it names a move to make.
    #[must_use]
    pub fn moves(&self) -> bool {
        match self {
            Self::Supports | Self::Bush { .. } | Self::Square { .. } | Self::Station { .. } => true,
            Self::Feet { moves, .. } => !moves.is_empty(),
            Self::Spar { moves, .. } => !moves.is_empty(),
            Self::Rework { .. } | Self::Measure { .. } | Self::Record | Self::Nothing => false,
        }
    }
}

/// A tilt of a post now and after the moves, in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TiltExpected {
    /// Which way.
    pub axis: Axis,
    pub now_deg: f64,
    /// After the moves.
    pub expected_deg: f64,
    /// Half width of the 95 % interval after them.
    pub half95_deg: f64,
}

/// A move of a support for the sake of a spar's straightness.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SparMove {
    pub support: String,
    /// How far, positive in its direction, in mm.
    pub mm: f64,
    /// Turns of its screw, clockwise positive; none for shims.
    pub turns: Option<f64>,
    /// The sentence for a hand.
    pub words: String,
}
