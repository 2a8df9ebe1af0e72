//! What a line says, after its check was found right.

use crate::{FaultCode, Flags, Outcome, Quantity, Unit};

/// The version of the protocol this crate speaks: the digit after the `~` of each line.
pub const VERSION: u8 = 1;

/// The longest line, in bytes, from its `~` to its line feed. A longer one is not ours.
pub const MAX_LINE: usize = 96;

/// The longest name of a board.
pub const MAX_NAME: usize = 20;
/// The longest number (serial number) of a board.
pub const MAX_NUMBER: usize = 16;
/// The longest firmware version.
pub const MAX_FIRMWARE: usize = 12;
/// The longest detail of a fault or an answer.
pub const MAX_DETAIL: usize = 24;

/// A value as it was sent: `mantissa` times ten to the `exponent`. No binary fraction is involved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Decimal {
    /// The digits with their sign.
    pub mantissa: i32,
    /// The power of ten, -9 to 9. It also says what one step of the last digit is worth.
    pub exponent: i8,
}

/// What every line from a board begins with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// Counts the lines the board has sent since it started, from 0, round again after 2^32 - 1.
    pub sequence: u32,
    /// Milliseconds since the board started, round again after 2^32 - 1 (49.7 days).
    pub device_ms: u32,
}

/// One measured value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sample {
    /// Which line, and when.
    pub stamp: Stamp,
    /// What was measured.
    pub quantity: Quantity,
    /// The value.
    pub value: Decimal,
    /// Its unit; always one that measures the quantity.
    pub unit: Unit,
    /// How far it may be trusted.
    pub flags: Flags,
}

/// Who the board is. Sent once after a start, and on request.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Identify<'a> {
    /// Which line, and when.
    pub stamp: Stamp,
    /// What the board calls itself; at most [`MAX_NAME`] characters.
    pub name: &'a str,
    /// Its number; at most [`MAX_NUMBER`] characters.
    pub number: &'a str,
    /// The version of its firmware; at most [`MAX_FIRMWARE`] characters.
    pub firmware: &'a str,
}

/// How the board is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Status {
    /// Which line, and when.
    pub stamp: Stamp,
    /// Milliseconds from one sample to the next; 0 if the board sends them when something happens.
    pub interval_ms: u16,
    /// Samples it could not send since it started because the line was busy.
    pub dropped: u32,
    /// Its state, in the letters of a sample.
    pub flags: Flags,
}

/// Something is wrong at the board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fault<'a> {
    /// Which line, and when.
    pub stamp: Stamp,
    /// What kind of thing. A word of a later version is read as [`FaultCode::Other`].
    pub code: FaultCode,
    /// A few words for a person, or `-`; at most [`MAX_DETAIL`] characters.
    pub detail: &'a str,
}

/// What became of a command.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Answer<'a> {
    /// Which line, and when.
    pub stamp: Stamp,
    /// The number of the command this answers.
    pub command: u16,
    /// What became of it.
    pub outcome: Outcome,
    /// A few words for a person, or `-`; at most [`MAX_DETAIL`] characters.
    pub detail: &'a str,
}

/// What a board is asked to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Request {
    /// Say who you are.
    Identify,
    /// Take the present position as zero; samples then carry `z`.
    Zero,
    /// Milliseconds between samples; 0 sends one only when something happens.
    Rate {
        /// Milliseconds from one sample to the next.
        interval_ms: u16,
    },
    /// A request of a later version: a board answers it with [`Outcome::Unknown`].
    Unknown,
}

/// A line to a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Command {
    /// Chosen by the sender, a new number for each new command. The same number again is the same command again, sent
    /// because its answer was not heard: it is answered again, but not carried out twice.
    pub number: u16,
    /// What is asked.
    pub request: Request,
}

/// Any line of the protocol.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Message<'a> {
    /// Board: who it is.
    Identify(Identify<'a>),
    /// Board: a measured value.
    Sample(Sample),
    /// Board: how it is doing.
    Status(Status),
    /// Board: something is wrong.
    Fault(Fault<'a>),
    /// Board: what became of a command.
    Answer(Answer<'a>),
    /// To the board.
    Command(Command),
}

impl Message<'_> {
    /// The stamp of a line from a board; a command has none.
    #[must_use]
    pub const fn stamp(&self) -> Option<Stamp> {
        match self {
            Self::Identify(it) => Some(it.stamp),
            Self::Sample(it) => Some(it.stamp),
            Self::Status(it) => Some(it.stamp),
            Self::Fault(it) => Some(it.stamp),
            Self::Answer(it) => Some(it.stamp),
            Self::Command(_) => None,
        }
    }
}
