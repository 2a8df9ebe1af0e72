//! What the bench says, in the same words in both faces.

use crate::{Gone, Shown, Target};
use instrument::{Fault, Outcome};
use std::fmt;

#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    Lost {
        why: Gone,
    },
    /// The port is back.
    Found,
    /// The instrument reported its identity.
    Hears {
        name: String,
        number: String,
        firmware: String,
    },
    Wrong {
        here: String,
        wanted: String,
    },
    /// The instrument was zeroed, or lost its zero: a new round begins.
    Zeroed(Zeroed),
    /// The board did not do what it was asked.
    Refused {
        outcome: Outcome,
        detail: String,
    },
    NoAnswer,
    CannotZero,
    /// Something that is not a value came from an instrument with a button.
    Fault(Fault),
    NotTaken(NotTaken),
    Written {
        what: Written,
        /// The line for the person, from the writer.
        line: String,
    },
    NotWritten(String),
    /// A target was skipped.
    Passed(Target),
    NothingBefore,
    NoFacing,
    /// The facing is locked between the start and the end of a move.
    FacingLocked,
    NothingToWithdraw,
    /// A move began here.
    Started(Shown),
    /// Nothing moved; the difference as text.
    NothingMoved(String),
    /// The screw went the other way, or it was another one.
    NotAsTold,
    /// Lay the level on another station for the next move.
    LayOn(String),
    /// No support is left to turn.
    LastMove,
    StartDropped,
    StartKept,
    /// The readings of a post are stale and a new round begins.
    RoundBegins,
    /// A move of something that is not a foot must be recorded by hand.
    RecordByHand,
    NoPost(String),
    NoQuestion,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Written {
    Readings,
    Move,
    Withdrawal,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zeroed {
    Set,
    Lost,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotTaken {
    NotMoved,
    NotPressed,
    NotSettled,
    NoValue,
    Wrong,
    NoTarget,
    OtherQuantity,
    Asked,
    /// A reading between moves would be of a half-moved wing.
    AmongMoves,
}

impl Said {
    /// The same for a face with buttons and no keys to type.
    pub fn by_touch(&self) -> String {
        let plain = match self {
            Self::NotTaken(NotTaken::NotMoved) => "It has not moved since the last reading; not recorded.",
            Self::NotTaken(NotTaken::NotPressed) => "Nothing was sent since the last reading; not recorded.",
            Self::NotTaken(NotTaken::NotSettled) => "It has not settled; not recorded. Hold it still.",
            Self::RecordByHand => "Record what was moved, then take the reading.",
            other => return other.to_string(),
        };
        plain.to_owned()
    }
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Lost { why } => write!(f, "{why}; reconnecting"),
            Self::Found => f.write_str("the port is back"),
            Self::Hears { name, number, firmware } => {
                write!(f, "{name} number {number}, firmware {firmware}")
            }
            Self::Wrong { here, wanted } => {
                write!(f, "wrong instrument: number {here} is here, {wanted} is wanted; nothing is recorded")
            }
            Self::Zeroed(Zeroed::Set) => f.write_str("the instrument was zeroed; a new round begins"),
            Self::Zeroed(Zeroed::Lost) => f.write_str("the instrument has lost its zero; a new round begins"),
            Self::Refused { outcome: Outcome::Refused, detail } => {
                write!(f, "the board refuses to zero: {detail}")
            }
            Self::Refused { .. } => f.write_str("the board does not know how to zero"),
            Self::NoAnswer => f.write_str("the board does not answer"),
            Self::CannotZero => f.write_str("zero it with its own button"),
            Self::Fault(fault) => write!(f, "{fault}; ignored"),
            Self::NotTaken(why) => why.fmt(f),
            Self::Written { line, .. } | Self::NotWritten(line) => f.write_str(line),
            Self::Passed(target) => f.write_str(&target.words()),
            Self::NothingBefore => f.write_str("there is no point before it"),
            Self::NoFacing => f.write_str("this point has no facing"),
            Self::FacingLocked => {
                f.write_str("finish the move first: turning the level in between would spoil the measurement")
            }
            Self::NothingToWithdraw => f.write_str("no reading of this run is left to withdraw"),
            Self::Started(shown) => write!(f, "start {}; turn", shown.words()),
            Self::NothingMoved(by) => write!(f, "Nothing moved ({by}). Nothing recorded."),
            Self::NotAsTold => f.write_str("That is not the move announced: which screw was turned?"),
            Self::LayOn(station) => write!(f, "lay the level on {station} for the next move"),
            Self::LastMove => f.write_str("that was the last move: measure along the wing again"),
            Self::StartDropped => f.write_str("the start is dropped; hold it still for a new one"),
            Self::StartKept => f.write_str("the start is kept"),
            Self::RoundBegins => f.write_str("the next reading begins a new round"),
            Self::RecordByHand => {
                f.write_str("record what was moved with `jigtrue move`, then take the reading")
            }
            Self::NoPost(name) => write!(f, "the plan has no post {name}"),
            Self::NoQuestion => f.write_str("nothing was asked"),
        }
    }
}

impl fmt::Display for NotTaken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotMoved => "It has not moved since the last reading. Type ! to record it anyway.",
            Self::NotPressed => "Nothing was sent since the last reading. Type ! to record it anyway.",
            Self::NotSettled => "It has not settled. Type ! to record it anyway; the entry says so.",
            Self::NoValue => "No value comes in; not recorded.",
            Self::Wrong => "Wrong instrument (its number does not match the file); not recorded.",
            Self::NoTarget => "No point is chosen; not recorded.",
            Self::OtherQuantity => {
                "The instrument measures something else than this point asks for; not recorded."
            }
            Self::Asked => "Answer the question first.",
            Self::AmongMoves => "Finish the moves first; then measure along the wing. Not recorded.",
        })
    }
}
