//! Events from a port.

use instrument::{Fault, Notice, Sample};
use std::error::Error;
use std::fmt;
use std::sync::Arc;

/// Something that came from a port or happened to it. Times are milliseconds on one clock that never goes back.
#[derive(Clone, Debug, PartialEq)]
pub enum PortEvent {
    Sample {
        at_ms: u64,
        sample: Sample,
    },
    /// Something came in that is not a value.
    Fault {
        at_ms: u64,
        fault: Fault,
    },
    /// A board reported something about itself.
    Notice {
        at_ms: u64,
        notice: Notice,
    },
    /// Values dropped because the queue was full.
    Missed {
        at_ms: u64,
        values: u64,
    },
    /// The port is gone; it is reopened when it is back.
    Lost {
        at_ms: u64,
        why: Gone,
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

/// Why a port is gone. Two are equal if they have the same message.
#[derive(Clone, Debug)]
pub struct Gone(Arc<dyn Error + Send + Sync>);

impl Gone {
    pub fn because(why: impl Into<Box<dyn Error + Send + Sync>>) -> Self {
        Self(Arc::from(why.into()))
    }
}

impl PartialEq for Gone {
    fn eq(&self, other: &Self) -> bool {
        self.to_string() == other.to_string()
    }
}

impl fmt::Display for Gone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl Error for Gone {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        self.0.source()
    }
}
