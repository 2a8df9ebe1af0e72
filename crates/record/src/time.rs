//! When something happened, and calendar dates.

use jiff::Timestamp;
use jiff::tz::Offset;
use serde::{Deserialize, Serialize};
use std::fmt;

/// An instant: milliseconds since 1970-01-01 00:00:00 UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct At(i64);

impl At {
    /// An instant from milliseconds since the epoch.
    #[must_use]
    pub const fn from_millis(millis: i64) -> Self {
        Self(millis)
    }

    /// Milliseconds since the epoch.
    #[must_use]
    pub const fn millis(self) -> i64 {
        self.0
    }

    /// Whether its year fits a calendar date, -9999 to 9999.
    #[must_use]
    pub fn is_on_calendar(self) -> bool {
        Timestamp::from_millisecond(self.0).is_ok()
    }

    /// The calendar date in UTC; for an instant beyond the calendar, the first or last date possible.
    #[must_use]
    pub fn date(self) -> Date {
        let text = match Timestamp::from_second(self.0.div_euclid(1000)) {
            Ok(stamp) => Offset::UTC.to_datetime(stamp).date().to_string(),
            Err(_) if self.0 > 0 => "9999-12-31".to_owned(),
            Err(_) => String::new(),
        };
        Date(text.get(..10).filter(|t| !t.starts_with('-')).unwrap_or("0000-01-01").to_owned())
    }
}

impl fmt::Display for At {
    /// ISO 8601 in UTC to the second, `2031-04-05T06:07:08Z`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match Timestamp::from_second(self.0.div_euclid(1000)) {
            Ok(stamp) => write!(f, "{stamp}"),
            Err(_) => write!(f, "{} ms", self.0),
        }
    }
}

/// How far a writer's local time was ahead of UTC, in whole minutes (ISO 8601: `+02:00`).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "i16", into = "i16")]
pub struct UtcOffset(i16);

impl UtcOffset {
    /// UTC itself.
    pub const UTC: Self = Self(0);
    /// The largest offset in either direction: 25:59 hours, as RFC 9557 and time zone data allow.
    const MOST_MINUTES: i16 = 25 * 60 + 59;

    /// An offset of this many minutes ahead of UTC; `None` beyond what any zone has.
    #[must_use]
    pub const fn from_minutes(minutes: i16) -> Option<Self> {
        if minutes >= -Self::MOST_MINUTES && minutes <= Self::MOST_MINUTES {
            Some(Self(minutes))
        } else {
            None
        }
    }

    /// Minutes ahead of UTC.
    #[must_use]
    pub const fn minutes(self) -> i16 {
        self.0
    }
}

impl TryFrom<i16> for UtcOffset {
    type Error = &'static str;
    fn try_from(minutes: i16) -> Result<Self, Self::Error> {
        Self::from_minutes(minutes).ok_or("no time zone is that far from UTC")
    }
}

impl From<UtcOffset> for i16 {
    fn from(offset: UtcOffset) -> Self {
        offset.0
    }
}

impl fmt::Display for UtcOffset {
    /// `+02:00`, `-03:30`, `+00:00`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (sign, size) = (if self.0 < 0 { '-' } else { '+' }, self.0.unsigned_abs());
        write!(f, "{sign}{:02}:{:02}", size / 60, size % 60)
    }
}

/// A calendar date, `YYYY-MM-DD` (ISO 8601); compares in date order.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Date(String);

/// The text is not a date.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a date; write it as 2031-04-05")]
pub struct DateParseError(String);

impl TryFrom<String> for Date {
    type Error = DateParseError;
    fn try_from(text: String) -> Result<Self, DateParseError> {
        match text.parse::<jiff::civil::Date>() {
            Ok(date) if text.len() == 10 && date.to_string() == text => Ok(Self(text)),
            _ => Err(DateParseError(text)),
        }
    }
}

impl std::str::FromStr for Date {
    type Err = DateParseError;
    fn from_str(text: &str) -> Result<Self, DateParseError> {
        Self::try_from(text.to_owned())
    }
}

impl From<Date> for String {
    fn from(date: Date) -> Self {
        date.0
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
