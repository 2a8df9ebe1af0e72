//! The one place that reads the time of day, and how an instant is written.

use crate::shown;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use record::{At, UtcOffset, When};
use std::time::{SystemTime, UNIX_EPOCH};

/// The present instant, to the millisecond; it may be beyond the calendar if the clock is wrong.
pub fn now() -> At {
    let millis = |span: std::time::Duration| i64::try_from(span.as_millis()).unwrap_or(i64::MAX);
    At::from_millis(match SystemTime::now().duration_since(UNIX_EPOCH) {
        Ok(since) => millis(since),
        Err(before) => -millis(before.duration()),
    })
}

/// The offset from UTC of this machine's clock at an instant.
pub fn offset_here(at: At) -> Option<UtcOffset> {
    let stamp = Timestamp::from_millisecond(at.millis()).ok()?;
    let seconds = TimeZone::try_system().ok()?.to_offset(stamp).seconds();
    UtcOffset::from_minutes(i16::try_from(seconds / 60).ok()?)
}

/// An instant as ISO 8601 in UTC with milliseconds, `2031-04-05T06:07:08.250Z`.
pub fn stamp(at: At) -> String {
    Timestamp::from_millisecond(at.millis()).map_or_else(|_| at.to_string(), |t| format!("{t:.3}"))
}

/// Reads an instant in ISO 8601 with its offset from UTC: `2031-04-05T06:07:08Z`, `2031-04-05 08:07:08+02:00`.
///
/// # Errors
/// If the text is not an instant or lacks the offset.
pub fn instant(text: &str) -> Result<At, NoInstant> {
    let text = text.trim();
    match text.parse::<Timestamp>() {
        Ok(stamp) => Ok(At::from_millis(stamp.as_millisecond())),
        Err(why) if text.parse::<jiff::civil::DateTime>().is_ok() => {
            Err(NoInstant::NoOffset(text.to_owned(), why))
        }
        Err(why) => Err(NoInstant::NotATime(text.to_owned(), why)),
    }
}

/// Why a text is not an instant.
#[derive(Debug, thiserror::Error)]
pub enum NoInstant {
    #[error("`{}` lacks its offset from UTC; add Z for UTC, or one such as +02:00", shown(.0))]
    NoOffset(String, #[source] jiff::Error),
    #[error("`{}` is not a time; write it as 2031-04-05T06:07:08Z", shown(.0))]
    NotATime(String, #[source] jiff::Error),
}

/// What a session uses as the present: the clock, or an instant set for shipped examples.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Clock {
    Machine,
    Set(At),
}

impl Clock {
    pub(crate) fn now(self) -> At {
        match self {
            Self::Machine => now(),
            Self::Set(at) => at,
        }
    }

    /// The present as an entry stores it. An instant set by hand is in UTC, on every machine.
    pub(crate) fn when(self) -> When {
        let at = self.now();
        match self {
            Self::Machine => When { at, offset: offset_here(at) },
            Self::Set(_) => When { at, offset: Some(UtcOffset::UTC) },
        }
    }
}
