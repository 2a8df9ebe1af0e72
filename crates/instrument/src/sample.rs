//! Values from an instrument, in one shape for every dialect.

use crate::{Axis, Decimal, Flags, Text};
use core::fmt;
use jigtrue_protocol::{FaultCode, Outcome};
use quantity::{Amount, Unit};

/// One measured value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// What the instrument measured.
    pub axis: Axis,
    /// The value, with every digit as sent.
    pub value: Decimal,
    pub unit: Unit,
    /// The instrument's own sample count, if it has one.
    pub sequence: Option<u32>,
    /// The instrument's own milliseconds, if it has a clock.
    pub device_ms: Option<u32>,
    /// The instrument's description of the value. A value with [`Flags::bars`] is never a reading.
    pub flags: Flags,
}

impl Sample {
    /// A sample from an instrument that sends only values.
    #[must_use]
    pub const fn bare(axis: Axis, value: Decimal, unit: Unit) -> Self {
        Self { axis, value, unit, sequence: None, device_ms: None, flags: Flags::NONE }
    }

    /// The value as a quantity: degrees, millimetres, °C or N·m.
    #[must_use]
    pub fn amount(&self) -> Amount {
        Amount::from_base(self.unit.kind(), self.base())
    }

    /// The value as a plain number in degrees, millimetres, °C or N·m.
    #[must_use]
    pub fn base(&self) -> f64 {
        self.unit.to_base(self.value.to_f64())
    }
}

/// Why received bytes are not a sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Fault {
    #[error("{bytes} {} to no frame", if *.bytes == 1 { "byte that belongs" } else { "bytes that belong" })]
    Noise { bytes: usize },
    #[error("a line that may have begun before the port was opened")]
    Start,
    /// It was interrupted by a new one, or ended too soon.
    #[error("a frame cut short")]
    Cut,
    #[error("a line without an end")]
    TooLong,
    /// The checksum is wrong or missing.
    #[error("a frame changed in transit (its checksum does not fit)")]
    Check,
    #[error("a frame in another form than the instrument's file says")]
    Form,
    /// A whole line; its beginning.
    #[error("a line that does not fit the instrument's file: `{line}`")]
    Unfit { line: Text<40> },
    #[error(
        "a sentence without its checksum; set the instrument to send it (nothing else reveals a changed digit)"
    )]
    NoCheck,
    #[error("a line of another version of the protocol")]
    Version,
    /// Or a value that means none.
    #[error("the instrument sent no value")]
    NoValue,
    #[error("a frame that was sent before")]
    Repeat,
    /// To the last question.
    #[error(
        "the instrument does not answer (is it switched on? are its wires, address and baud rate right?)"
    )]
    NoAnswer,
    /// They came after the last question.
    #[error(
        "{bytes} bytes came that are not an answer from this instrument (are baud rate and parity right? does another program ask?)"
    )]
    OtherAnswer { bytes: usize },
    #[error("an answer came too late; increase `answer_ms` in the instrument's file")]
    Late,
    /// The exception code of Modbus.
    #[error("the instrument refuses: {}", exception(*.0))]
    Exception(u8),
    /// A short text from the instrument, or `-`.
    #[error("the instrument reports a fault: {}{}", .code.word(), InBrackets(.detail.as_str()))]
    Instrument { code: FaultCode, detail: Text<24> },
}

/// What an instrument says of its fault; nothing if that is `-`.
struct InBrackets<'a>(&'a str);

impl fmt::Display for InBrackets<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 == "-" { Ok(()) } else { write!(f, " ({})", self.0) }
    }
}

/// The exception codes of the Modbus application protocol that a measuring instrument uses.
fn exception(code: u8) -> &'static str {
    match code {
        1 => "it does not have this function (exception 1)",
        2 => "it does not have these registers (exception 2)",
        3 => "it does not allow this number of registers (exception 3)",
        4 => "it failed (exception 4)",
        5 => "it is working on it (exception 5)",
        6 => "it is busy (exception 6)",
        _ => "with an unknown exception",
    }
}

/// What a board reports about itself, besides samples and faults.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notice {
    /// Which board it is; also sent when it has just started.
    Identity {
        /// What the board calls itself.
        name: Text<20>,
        number: Text<16>,
        /// The version of its firmware.
        firmware: Text<12>,
    },
    /// Its condition.
    Status {
        /// Milliseconds from sample to sample; 0 if it sends on events.
        interval_ms: u16,
        /// Samples it could not send since it started.
        dropped: u32,
        /// Its state.
        flags: Flags,
    },
    /// The result of a command.
    Answer {
        /// The number of the command.
        command: u16,
        /// The result.
        outcome: Outcome,
        /// A short text, or `-`.
        detail: Text<24>,
    },
}
