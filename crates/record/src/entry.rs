//! One row of the log.

use crate::{At, Instrument, InstrumentCheck, Reading};
use serde::{Deserialize, Serialize};

/// One row of the log; never changed once written.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its number, from 1, without gaps.
    pub seq: u64,
    /// When it was written.
    pub at: At,
    /// Who wrote it.
    pub by: String,
    /// What happened.
    pub what: What,
}

/// What happened. As JSON it is `{"kind": .., "body": {..}}`: kept apart, because an instrument has a kind of its own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", content = "body", rename_all = "kebab-case")]
pub enum What {
    /// The log was started from a plan. Always the first entry.
    Started {
        /// The plan's text, whole.
        plan: String,
        /// The program and version that wrote it.
        program: String,
    },
    /// The plan was replaced, with a reason.
    Replanned {
        /// The new plan's text, whole.
        plan: String,
        /// Why.
        reason: String,
    },
    /// An instrument was entered, or entered again with other facts.
    Instrument(Instrument),
    /// An instrument was checked in the shop.
    InstrumentCheck(InstrumentCheck),
    /// A reading was taken.
    Reading(Reading),
    /// An earlier entry was withdrawn.
    Withdrawn {
        /// The number of the entry withdrawn.
        seq: u64,
        /// Why.
        reason: String,
    },
    /// A stage of the build began.
    Stage {
        /// Its name in the plan.
        name: String,
    },
    /// A support was moved.
    Move(Move),
    /// A thing left open on purpose was opened, closed or carried past.
    OpenItem(OpenItem),
    /// A minute or an event of a drift watch.
    Drift {
        /// The point watched.
        point: crate::Point,
        /// Mean over the span, in the unit used inside.
        mean: f64,
        /// Smallest value.
        least: f64,
        /// Largest value.
        most: f64,
        /// Samples in it.
        samples: u32,
        /// Length of the span in seconds.
        seconds: u32,
        /// Temperature, if known.
        temperature: Option<quantity::Celsius>,
        /// The shift found in it, if one was: size in the unit used inside and when it began.
        shift: Option<(f64, At)>,
    },
    /// Somebody signed.
    Signed(Signed),
    /// A remark.
    Note {
        /// The remark.
        text: String,
    },
}

/// A move of a support.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Move {
    /// The support's name in the plan.
    pub support: String,
    /// How far it moved, in millimetres, positive in the support's direction (up or aft).
    pub amount: quantity::Millimetres,
    /// What was typed or advised, as it stood (`3/8 turn clockwise`).
    pub text: String,
}

/// What was done about a thing left open.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum OpenAction {
    /// It was left open.
    Opened,
    /// It was closed.
    Closed,
    /// It was carried past the gate on purpose.
    Carried,
}

/// A thing left open on purpose, and what was done about it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenItem {
    /// The thing, in words; a stage's own list uses the same words.
    pub item: String,
    /// What was done.
    pub action: OpenAction,
    /// Why, or by what.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
}

/// The state of the closing gate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum GateState {
    /// Nothing stands against closing the skins.
    Clear,
    /// Something does.
    Hold,
}

impl GateState {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Hold => "hold",
        }
    }
}

/// A sign-off.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Signed {
    /// Who signed.
    pub who: String,
    /// In what capacity.
    pub capacity: String,
    /// What they state.
    pub statement: String,
    /// The gate's state when they signed.
    pub gate: GateState,
    /// How many entries the log had.
    pub entries: u64,
    /// The hash of the last of them, in hexadecimal.
    pub head: String,
    /// A signature over who, capacity, statement, gate and head, if a key was used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signature: Option<Signature>,
}

/// An Ed25519 signature (RFC 8032), both parts in hexadecimal.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Signature {
    /// The public key, 32 bytes.
    pub key: String,
    /// The signature, 64 bytes.
    pub bytes: String,
}
