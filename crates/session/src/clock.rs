//! The one place where the time of day is read, and how an instant is written.

use jiff::Timestamp;
use record::At;

/// The present instant, to the millisecond.
#[must_use]
pub fn now() -> At {
    At::from_millis(Timestamp::now().as_millisecond())
}

/// An instant as ISO 8601 in UTC with milliseconds, `2031-04-05T06:07:08.250Z`.
#[must_use]
pub fn stamp(at: At) -> String {
    Timestamp::from_millisecond(at.millis()).map_or_else(|_| at.to_string(), |t| format!("{t:.3}"))
}

/// Reads an instant in ISO 8601 with its offset from UTC: `2031-04-05T06:07:08Z`, `2031-04-05 08:07:08+02:00`.
///
/// # Errors
/// In words, when the text is no instant or lacks the offset.
pub fn instant(text: &str) -> Result<At, String> {
    let text = text.trim();
    match text.parse::<Timestamp>() {
        Ok(stamp) => Ok(At::from_millis(stamp.as_millisecond())),
        Err(_) => {
            let why = if text.parse::<jiff::civil::DateTime>().is_ok() {
                "lacks its offset from UTC; add Z for UTC, or +02:00 and the like"
            } else {
                "is not a time; write it as 2031-04-05T06:07:08Z"
            };
            Err(format!("`{}` {why}", crate::shown(text)))
        }
    }
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
