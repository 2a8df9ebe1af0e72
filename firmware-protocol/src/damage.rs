//! Why received bytes are not a message.

use core::fmt;

/// What was wrong with bytes that were dropped. When it is reported they are gone, and the receiver stands where the
/// next line can begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Damage {
    /// Bytes that belong to no line: this many since the last report.
    Noise {
        /// How many bytes.
        bytes: usize,
    },
    /// A line that a new one began in the middle of.
    Cut,
    /// A line longer than [`MAX_LINE`](crate::MAX_LINE).
    TooLong,
    /// No `*` and four upper-case hexadecimal digits at the end of the line.
    NoCheck,
    /// The CRC does not fit: something was changed in transit.
    Check,
    /// The CRC fits, but the line is of another version of the protocol.
    Version,
    /// The CRC fits, but the line is of a kind this version does not know.
    Kind,
    /// The CRC fits, but a field is invalid: the sender is at fault.
    Field,
}

impl fmt::Display for Damage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Noise { bytes } => write!(f, "{bytes} bytes that belong to no line"),
            Self::Cut => f.write_str("a line cut short by the next one"),
            Self::TooLong => f.write_str("a line without an end"),
            Self::NoCheck => f.write_str("a line without its check"),
            Self::Check => f.write_str("a line changed on the way (the check does not fit)"),
            Self::Version => f.write_str("a line of another version of the protocol"),
            Self::Kind => f.write_str("a line of an unknown kind"),
            Self::Field => f.write_str("a line with a field that makes no sense"),
        }
    }
}

impl core::error::Error for Damage {}
