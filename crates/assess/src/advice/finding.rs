//! What is outside or undecided, and what corrects it, as values.

use super::feet::{Axis, FootMove, Lack};
use crate::view::{ObligationKind, Verdict, of_obligation};
use serde::Serialize;

/// One thing that is outside, undecided, doubtful or cannot be judged, with what to do about it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// What sort of thing.
    pub kind: ObligationKind,
    /// Its name in the plan.
    pub about: String,
    /// What was found.
    #[serde(serialize_with = "of_obligation")]
    pub state: Verdict,
    /// What was found, for a person.
    pub words: String,
    /// Other things with the same remedy.
    pub with: Vec<String>,
    /// What to do.
    pub remedy: Remedy,
    /// The same as sentences, with the reason; in reading order.
    pub mend: Vec<String>,
}

/// How to correct a finding. Lengths in mm, positive aft, up and outboard.
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
    /// Move supports that hold a spar bowed.
    Spar {
        spar: String,
        moves: Vec<SparMove>,
        /// Expected width of the minimum zone.
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
        /// The longer diagonal: bring its corners closer together.
        longer: String,
        /// How far the side shifts.
        shift_mm: f64,
    },
    /// Move a station along the span.
    Station {
        /// How far outboard.
        outboard_mm: f64,
    },
    /// Rework the thing itself; no move corrects it.
    Rework {
        /// The lowest value to aim for, in its own unit.
        at_least: Option<f64>,
        /// The highest value to aim for.
        at_most: Option<f64>,
    },
    /// Measure again, or measure what is missing.
    Measure { points: Vec<String> },
    /// Put the record in order (an instrument, an open item, the log itself).
    Record,
    /// Nothing in the plan corrects it; the sentences say what else would.
    Nothing,
}

impl Remedy {
    /// Whether it needs work on the jig or the wing, not another reading.
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

    /// Whether it names a move to make.
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

/// A move of a support to straighten a spar.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SparMove {
    pub support: String,
    /// How far, positive in its direction, in mm.
    pub mm: f64,
    /// Turns of its screw, clockwise positive; `None` for shims.
    pub turns: Option<f64>,
    /// The instruction.
    pub words: String,
}
