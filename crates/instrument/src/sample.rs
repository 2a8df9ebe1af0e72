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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Bytes that belong to no frame.
    Noise {
        /// How many bytes.
        bytes: usize,
    },
    /// The first line after the port was opened, which may have begun earlier.
    Start,
    /// A frame interrupted by a new one, or ended too soon.
    Cut,
    /// A line without an end.
    TooLong,
    /// The checksum is wrong or missing: something changed in transit.
    Check,
    /// A whole frame that is not in the expected form.
    Form,
    /// A whole line that is not in the form of the instrument's file.
    Unfit {
        /// Its beginning.
        line: Text<40>,
    },
    /// A sentence without its checksum.
    NoCheck,
    /// A line of another version of the protocol.
    Version,
    /// The instrument sent no value, or a value that means none.
    NoValue,
    /// A frame that was already given out.
    Repeat,
    /// No answer came to the last question.
    NoAnswer,
    /// Bytes came after the last question, but no answer to it.
    OtherAnswer {
        /// How many bytes.
        bytes: usize,
    },
    /// An answer came after its time-out.
    Late,
    /// The instrument refused the question, with the exception code of Modbus.
    Exception(u8),
    /// The instrument reports a fault of its own.
    Instrument {
        /// The kind of fault.
        code: FaultCode,
        /// A short text from the instrument, or `-`.
        detail: Text<24>,
    },
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Noise { bytes: 1 } => f.write_str("1 byte that belongs to no frame"),
            Self::Noise { bytes } => write!(f, "{bytes} bytes that belong to no frame"),
            Self::Start => f.write_str("a line that may have begun before the port was opened"),
            Self::Cut => f.write_str("a frame cut short"),
            Self::TooLong => f.write_str("a line without an end"),
            Self::Check => f.write_str("a frame changed in transit (its checksum does not fit)"),
            Self::Form => f.write_str("a frame in another form than the instrument's file says"),
            Self::Unfit { line } => write!(f, "a line that does not fit the instrument's file: `{line}`"),
            Self::NoCheck => f.write_str(
                "a sentence without its checksum; set the instrument to send it (nothing else reveals a \
                    changed digit)",
            ),
            Self::Version => f.write_str("a line of another version of the protocol"),
            Self::NoValue => f.write_str("the instrument sent no value"),
            Self::Repeat => f.write_str("a frame that was sent before"),
            Self::NoAnswer => f.write_str(
                "the instrument does not answer (is it switched on? are its wires, address and baud rate right?)",
            ),
            Self::OtherAnswer { bytes } => write!(
                f,
                "{bytes} bytes came that are not an answer from this instrument (are baud rate and parity \
                    right? does another program ask?)"
            ),
            Self::Late => f.write_str("an answer came too late; increase `answer_ms` in the instrument's file"),
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
