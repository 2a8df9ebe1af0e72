//! What came from an instrument, in one shape whatever dialect it spoke.

use crate::{Axis, Decimal, Flags, Text};
use core::fmt;
use jigtrue_protocol::{FaultCode, Outcome};
use quantity::{Amount, Unit};

/// One measured value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Which of the things the instrument measures.
    pub axis: Axis,
    /// The value, every digit as sent.
    pub value: Decimal,
    pub unit: Unit,
    /// The instrument's own count of what it sent, where it has one.
    pub sequence: Option<u32>,
    /// The instrument's own milliseconds, where it has a clock.
    pub device_ms: Option<u32>,
    /// What the instrument says about the value. A value with [`Flags::bars`] is never a reading.
    pub flags: Flags,
}

impl Sample {
    /// A sample of an instrument that sends values and nothing about them.
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

/// Why something that came in is not a sample.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Bytes that belong to nothing.
    Noise {
        /// How many bytes.
        bytes: usize,
    },
    /// What came first after the port was opened, and may have begun before.
    Start,
    /// A frame that a new one began in the middle of, or that ended too soon.
    Cut,
    /// A line without an end.
    TooLong,
    /// The check does not fit, or is not there: something was changed on the way.
    Check,
    /// A whole frame that is not of the form expected.
    Form,
    /// A whole line that is not of the form in the instrument's file.
    Unfit {
        /// Its beginning.
        line: Text<40>,
    },
    /// A sentence without its checksum.
    NoCheck,
    /// A line of another version of the protocol.
    Version,
    /// The instrument sent no value, or a value that stands for none.
    NoValue,
    /// A frame that was given out before.
    Repeat,
    /// Nothing came after the last question.
    NoAnswer,
    /// Something came after the last question, and no answer to it.
    OtherAnswer {
        /// How many bytes.
        bytes: usize,
    },
    /// An answer came after the time for it was over.
    Late,
    /// The instrument refused the question, with the exception code of Modbus.
    Exception(u8),
    /// The instrument reports a fault of its own.
    Instrument {
        /// What kind of fault.
        code: FaultCode,
        /// A few words from the instrument, or `-`.
        detail: Text<24>,
    },
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Noise { bytes: 1 } => f.write_str("1 byte that belongs to nothing"),
            Self::Noise { bytes } => write!(f, "{bytes} bytes that belong to nothing"),
            Self::Start => f.write_str("a line that may have begun before the port was opened"),
            Self::Cut => f.write_str("a frame cut short"),
            Self::TooLong => f.write_str("a line without an end"),
            Self::Check => f.write_str("a frame changed on the way (its check does not fit)"),
            Self::Form => f.write_str("a frame of another form than the instrument's file says"),
            Self::Unfit { line } => write!(f, "a line that does not fit the instrument's file: `{line}`"),
            Self::NoCheck => f.write_str(
                "a sentence without its checksum; have the instrument send it (nothing else shows a digit changed on the way)",
            ),
            Self::Version => f.write_str("a line of another version of the protocol"),
            Self::NoValue => f.write_str("the instrument sent no value"),
            Self::Repeat => f.write_str("a frame that was sent before"),
            Self::NoAnswer => f.write_str(
                "the instrument does not answer (is it switched on? are its wires, address and baud rate right?)",
            ),
            Self::OtherAnswer { bytes } => write!(
                f,
                "{bytes} bytes came that are no answer of this instrument (are baud rate and parity right? does \
                 another program ask?)"
            ),
            Self::Late => f.write_str("an answer came too late; give `answer_ms` more in the instrument's file"),
            Self::Exception(code) => write!(f, "the instrument refuses: {}", exception(*code)),
            Self::Instrument { code, detail } if detail.as_str() == "-" => {
                write!(f, "the instrument reports a fault: {}", code.word())
            }
            Self::Instrument { code, detail } => {
                write!(f, "the instrument reports a fault: {} ({detail})", code.word())
            }
        }
    }
}

impl core::error::Error for Fault {}

/// The exception codes of the Modbus application protocol that a measuring instrument uses.
fn exception(code: u8) -> &'static str {
    match code {
        1 => "it does not have this function (exception 1)",
        2 => "it does not have these registers (exception 2)",
        3 => "it does not take this number of registers (exception 3)",
        4 => "it failed (exception 4)",
        5 => "it is working on it (exception 5)",
        6 => "it is busy (exception 6)",
        _ => "with an exception that is not known here",
    }
}

/// What a board says of itself, beside samples and faults.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notice {
    /// Who it is; also sent when it has just started.
    Identity {
        /// What it calls itself.
        name: Text<20>,
        number: Text<16>,
        /// The version of its firmware.
        firmware: Text<12>,
    },
    /// How it is doing.
    Status {
        /// Milliseconds from sample to sample; 0 for when something happens.
        interval_ms: u16,
        /// Samples it could not send since it started.
        dropped: u32,
        /// Its state.
        flags: Flags,
    },
    /// What became of a command.
    Answer {
        /// The number of the command.
        command: u16,
        /// What became of it.
        outcome: Outcome,
        /// A few words, or `-`.
        detail: Text<24>,
    },
}
