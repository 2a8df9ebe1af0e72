//! What comes from a port.

use instrument::{Fault, Notice, Sample};

/// What came from a port, or became of it. Times are milliseconds on one clock that never goes back.
#[derive(Clone, Debug, PartialEq)]
pub enum PortEvent {
    /// A value came in.
    Sample {
        /// When it was received.
        at_ms: u64,
        /// The value.
        sample: Sample,
    },
    /// Something came in that is no value.
    Fault {
        /// When it was received.
        at_ms: u64,
        /// What was wrong with it.
        fault: Fault,
    },
    /// A board said something of itself.
    Notice {
        /// When it was received.
        at_ms: u64,
        /// What it said.
        notice: Notice,
    },
    /// Values dropped because the queue was full.
    Missed {
        /// When there was room again.
        at_ms: u64,
        /// How many.
        values: u64,
    },
    /// The port is gone; it is opened again when it is back.
    Lost {
        /// When it was noticed.
        at_ms: u64,
        /// Why, in words.
        why: String,
    },
    /// The port is back.
    Found {
        /// When it was opened again.
        at_ms: u64,
    },
}

impl PortEvent {
    /// When it was.
    #[must_use]
    pub const fn at_ms(&self) -> u64 {
        match self {
            Self::Sample { at_ms, .. }
            | Self::Fault { at_ms, .. }
            | Self::Notice { at_ms, .. }
            | Self::Missed { at_ms, .. }
            | Self::Lost { at_ms, .. }
            | Self::Found { at_ms } => *at_ms,
        }
    }
}
