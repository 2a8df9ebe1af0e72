//! One value taken at one point.

use crate::{Asked, Point};
use quantity::{Celsius, Kind};
use serde::{Deserialize, Serialize};

quantity::words_in_json! {
    /// Which way the instrument's arrow points.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
    pub enum Facing {
        /// Toward the leading edge (for a tilt along the span: outboard).
        Forward = "forward",
        /// Toward the trailing edge (for a tilt along the span: inboard); this reverses the sign of the display.
        Aft = "aft",
    }
}

impl Facing {
    /// +1 forward, -1 aft.
    #[must_use]
    pub const fn sign(self) -> f64 {
        match self {
            Self::Forward => 1.0,
            Self::Aft => -1.0,
        }
    }

    /// The opposite facing.
    #[must_use]
    pub const fn turned(self) -> Self {
        match self {
            Self::Forward => Self::Aft,
            Self::Aft => Self::Forward,
        }
    }

    /// Every word that a person may type for a facing. Along the span, a level's arrow points outboard or inboard.
    pub const TYPED: [(&str, Self); 7] = [
        ("forward", Self::Forward),
        ("aft", Self::Aft),
        ("f", Self::Forward),
        ("a", Self::Aft),
        ("fwd", Self::Forward),
        ("outboard", Self::Forward),
        ("inboard", Self::Aft),
    ];

    /// The facing that a typed word names, in any case.
    #[must_use]
    pub fn named(word: &str) -> Option<Self> {
        Self::TYPED.iter().find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, facing)| *facing)
    }
}

quantity::words_in_json! {
    /// How a reading was entered.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum Source {
        /// A person typed it.
        Typed = "typed",
        /// It came from a table.
        Imported = "imported",
        /// It came from an instrument on a port.
        Port = "port",
    }
}

/// The dial reading from which the instrument's table gave the value.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Dial {
    /// What it showed, in divisions.
    pub shown: f64,
    /// The step to which it was read.
    pub step: f64,
}

/// One value taken at one point, as the instrument showed it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reading {
    /// What was measured and where.
    pub point: Point,
    /// What was typed or shown, unchanged.
    pub text: String,
    pub quantity: Kind,
    /// The number as the instrument displayed it, in the base unit; the facing's sign is not yet applied.
    pub value: f64,
    /// The step of the display or of the typing, whichever is coarser, in the base unit.
    pub resolution: f64,
    /// Which way the instrument faced; absent for quantities without a facing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub facing: Option<Facing>,
    /// The instrument's name; absent if none was stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// Temperature of the part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<Celsius>,
    /// The round it belongs to.
    pub round: u32,
    /// Standard deviation of the samples averaged into the value, if taken from a port.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scatter: Option<f64>,
    /// How many samples were averaged, if taken from a port.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub samples: Option<u32>,
    /// Whether it was taken before it had settled.
    #[serde(default, skip_serializing_if = "core::ops::Not::not")]
    pub unsettled: bool,
    /// How it was entered.
    pub source: Source,
    /// The dial reading, if the instrument shows divisions; `value` and `resolution` then come from its table.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dial: Option<Dial>,
    /// A remark.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// The question that the person answered with yes, if one was asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub asked: Option<Asked>,
}

impl Reading {
    /// A typed reading of round 1 with nothing but its value; value and resolution in the base unit.
    #[must_use]
    pub fn of(point: Point, quantity: Kind, value: f64, resolution: f64) -> Self {
        Self {
            point,
            text: value.to_string(),
            quantity,
            value,
            resolution,
            facing: None,
            instrument: None,
            temperature: None,
            round: 1,
            scatter: None,
            samples: None,
            unsettled: false,
            source: Source::Typed,
            dial: None,
            note: None,
            asked: None,
        }
    }
}
