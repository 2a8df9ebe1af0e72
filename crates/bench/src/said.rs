//! What the bench says, in the same words in both faces.

use crate::{Gone, Shown, Target};
use instrument::{Fault, Outcome};

#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Said {
    #[error("{why}; reconnecting")]
    Lost { why: Gone },
    #[error("the port is back")]
    Found,
    /// The instrument reported its identity.
    #[error("{name} number {number}, firmware {firmware}")]
    Hears { name: String, number: String, firmware: String },
    #[error("wrong instrument: number {here} is here, {wanted} is wanted; nothing is recorded")]
    Wrong { here: String, wanted: String },
    /// A new round begins.
    #[error("the instrument {}; a new round begins", .0.words())]
    Zeroed(Zeroed),
    /// The board did not do what it was asked.
    #[error("{}", match .outcome {
        Outcome::Refused => format!("the board refuses to zero: {detail}"),
        Outcome::Unknown | Outcome::Done => "the board does not know how to zero".to_owned(),
    })]
    Refused { outcome: Outcome, detail: String },
    #[error("the board does not answer")]
    NoAnswer,
    #[error("zero it with its own button")]
    CannotZero,
    /// Something that is not a value came from an instrument with a button.
    #[error("{0}; ignored")]
    Fault(Fault),
    #[error("{0}")]
    NotTaken(NotTaken),
    /// The line for the person is from the writer.
    #[error("{line}")]
    Written { what: Written, line: String },
    #[error("{0}")]
    NotWritten(String),
    /// A target was skipped.
    #[error("{}", .0.words())]
    Passed(Target),
    #[error("there is no point before it")]
    NothingBefore,
    #[error("this point has no facing")]
    NoFacing,
    #[error("finish the move first: turning the level in between would spoil the measurement")]
    FacingLocked,
    #[error("no reading of this run is left to withdraw")]
    NothingToWithdraw,
    /// A move began here.
    #[error("start {}; turn", .0.words())]
    Started(Shown),
    /// The difference as text.
    #[error("Nothing moved ({0}). Nothing recorded.")]
    NothingMoved(String),
    /// The screw went the other way, or it was another one.
    #[error("That is not the move announced: which screw was turned?")]
    NotAsTold,
    #[error("lay the level on {0} for the next move")]
    LayOn(String),
    #[error("that was the last move: measure along the wing again")]
    LastMove,
    #[error("the start is dropped; hold it still for a new one")]
    StartDropped,
    #[error("the start is kept")]
    StartKept,
    /// The readings of a post are stale.
    #[error("the next reading begins a new round")]
    RoundBegins,
    /// A move of something that is not a foot.
    #[error("record what was moved with `jigtrue move`, then take the reading")]
    RecordByHand,
    #[error("the plan has no post {0}")]
    NoPost(String),
    #[error("nothing was asked")]
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

impl Zeroed {
    const fn words(self) -> &'static str {
        match self {
            Self::Set => "was zeroed",
            Self::Lost => "has lost its zero",
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotTaken {
    #[error("It has not moved since the last reading. Type ! to record it anyway.")]
    NotMoved,
    #[error("Nothing was sent since the last reading. Type ! to record it anyway.")]
    NotPressed,
    #[error("It has not settled. Type ! to record it anyway; the entry says so.")]
    NotSettled,
    #[error("No value comes in; not recorded.")]
    NoValue,
    #[error("Wrong instrument (its number does not match the file); not recorded.")]
    Wrong,
    #[error("No point is chosen; not recorded.")]
    NoTarget,
    #[error("The instrument measures something else than this point asks for; not recorded.")]
    OtherQuantity,
    #[error("Answer the question first.")]
    Asked,
    /// A reading between moves would be of a half-moved wing.
    #[error("Finish the moves first; then measure along the wing. Not recorded.")]
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
