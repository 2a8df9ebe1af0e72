//! The one place where the time of day is read.

use record::At;

/// The present instant, to the millisecond.
#[must_use]
pub fn now() -> At {
    At::from_millis(jiff::Timestamp::now().as_millisecond())
}

/// What a session takes for the present: the clock, or an instant set by hand for shipped examples.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Clock {
    /// The machine's clock.
    Machine,
    /// This instant.
    Set(At),
}

impl Clock {
    pub(crate) fn now(self) -> At {
        match self {
            Self::Machine => now(),
            Self::Set(at) => at,
        }
    }
}
