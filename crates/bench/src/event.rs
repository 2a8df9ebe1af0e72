//! Events from a port.

use instrument::{Fault, Notice, Sample};
use std::error::Error;
use std::fmt;
use std::sync::Arc;

/// Something that came from a port or happened to it.
#[derive(Clone, Debug, PartialEq)]
pub struct PortEvent {
    /// When, in milliseconds on a clock that never goes back.
    pub at_ms: u64,
    pub what: Came,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Came {
    Sample(Sample),
    /// Something came in that is not a value.
    Fault(Fault),
    /// A board reported something about itself.
    Notice(Notice),
    /// This many values were dropped because the queue was full.
    Missed(u64),
    /// The port is gone; it is reopened when it is back.
    Lost(Gone),
    /// The port is back.
    Found,
}

impl From<Result<Sample, Fault>> for Came {
    fn from(decoded: Result<Sample, Fault>) -> Self {
        decoded.map_or_else(Self::Fault, Self::Sample)
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
