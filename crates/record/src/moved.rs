//! A move of a support, and how it is known.

use crate::{Asked, Point};
use quantity::{Degrees, Millimetres};
use serde::{Deserialize, Serialize};

/// A move of a support.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Move {
    /// The support's or foot's name in the plan.
    pub support: String,
    /// How far it moved, in millimetres, positive in the support's direction (up or aft).
    pub amount: Millimetres,
    /// What was typed or counted, as given (`3/8 turn cw`).
    pub text: String,
    /// How the amount is known; absent in entries of format 1, which were all typed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub known: Option<MoveKnown>,
    /// What a level at a station showed during the move, if one was watched.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen: Option<MoveSeen>,
    /// The question that the person answered with yes, if one was asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
}

impl Move {
    /// A move that a person typed, with no question asked.
    #[must_use]
    pub fn typed(support: &str, amount: Millimetres, text: &str) -> Self {
        Self {
            support: support.to_owned(),
            amount,
            text: text.to_owned(),
            known: Some(MoveKnown::Typed),
            seen: None,
            asked: None,
        }
    }

    /// Standard uncertainty of the amount, if it was measured.
    #[must_use]
    pub const fn u(&self) -> Option<Millimetres> {
        match self.known {
            Some(MoveKnown::Measured { u }) => Some(u),
            _ => None,
        }
    }
}

/// How the amount of a move is known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum MoveKnown {
    /// From the instrument, at rest before and after the screw was turned.
    Measured {
        /// Standard uncertainty of the amount.
        u: Millimetres,
    },
    /// The instrument or the person counted the turns as they were made.
    Counted,
    /// The person typed what they had turned or shimmed.
    Typed,
}

/// What the level at a point showed of a move: its value at rest after, less its value at rest before.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct MoveSeen {
    /// Where the level was.
    pub point: Point,
    pub change: Degrees,
    /// Its standard uncertainty, in degrees.
    pub u: Degrees,
}
