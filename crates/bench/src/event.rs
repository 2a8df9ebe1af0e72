//! What comes from a port.

use instrument::{Fault, Notice, Sample};

/// Something that came from a port or happened to it. Times are milliseconds on one clock that never goes back.
#[derive(Clone, Debug, PartialEq)]
pub enum PortEvent {
    Sample {
        at_ms: u64,
        sample: Sample,
    },
    /// Something came in that is no value.
    Fault {
        at_ms: u64,
        fault: Fault,
    },
    /// A board said something of itself.
    Notice {
        at_ms: u64,
        notice: Notice,
    },
    /// Values dropped because the queue was full.
    Missed {
        at_ms: u64,
        values: u64,
    },
    /// The port is gone; it is opened again when it is back.
    Lost {
        at_ms: u64,
        why: String,
    },
    /// The port is back.
    Found {
        at_ms: u64,
    },
}

impl PortEvent {
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
