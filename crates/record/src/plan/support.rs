//! What carries the spars in the jig, and how it is moved.

use quantity::Millimetres;
use serde::{Deserialize, Serialize};

quantity::words_in_json! {
    /// The direction in which something moves or is measured.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum Direction {
        /// Along z.
        Up = "up",
        /// Along x.
        Aft = "aft",
    }
}

/// How far a support can move from its present position; both positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Travel {
    /// Against its direction (down, forward).
    pub minus: Millimetres,
    /// In its direction (up, aft).
    pub plus: Millimetres,
}

impl Travel {
    /// For a support that does not move.
    pub const NONE: Self = Self { minus: Millimetres::new(0.0), plus: Millimetres::new(0.0) };
}

/// Where a clockwise turn of a screw moves its support.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clockwise {
    /// In its positive direction: it raises it.
    Along,
    Against,
}

/// How a support is moved.
#[derive(Clone, Debug, PartialEq)]
pub enum Adjust {
    Screw {
        /// Movement of one turn.
        per_turn: Millimetres,
        clockwise: Clockwise,
    },
    /// With shims in stock.
    Shims {
        /// The thicknesses in stock, ascending; any number of each may be stacked.
        thicknesses: Vec<Millimetres>,
    },
    /// It does not move.
    Fixed,
}

/// A support of a spar.
#[derive(Clone, Debug, PartialEq)]
pub struct Support {
    pub name: String,
    /// Where along the span.
    pub span: Millimetres,
    /// The spar it carries.
    pub spar: String,
    /// The direction in which it moves the spar.
    pub direction: Direction,
    /// How far it can go.
    pub travel: Travel,
    /// How it is moved.
    pub adjust: Adjust,
}

/// A foot of a post, where the jig itself is levelled.
#[derive(Clone, Debug, PartialEq)]
pub struct Foot {
    /// Its name, unique in the plan.
    pub name: String,
    /// Where it stands, aft of the post's middle.
    pub aft: Millimetres,
    /// Where it stands, outboard of the post's middle.
    pub out: Millimetres,
    /// How far it can go, down and up.
    pub travel: Travel,
    /// How it is moved.
    pub adjust: Adjust,
}
