//! When an entry was written, as its writer's clock showed it.

use crate::{At, UtcOffset};
use std::fmt;

/// An instant, and the offset of the writer's clock if known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct When {
    /// The instant.
    pub at: At,
    /// The writer's offset from UTC; entries of version 0.1 have none.
    pub offset: Option<UtcOffset>,
}

impl From<At> for When {
    fn from(at: At) -> Self {
        Self { at, offset: None }
    }
}

impl fmt::Display for When {
    /// As a person reads it, in the writer's own offset: `2031-06-09 16:20 +02:00`; without an offset, in UTC and
    /// marked so.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let ahead = 60_000 * i64::from(self.offset.unwrap_or(UtcOffset::UTC).minutes());
        let there = self.at.millis().checked_add(ahead).map(At::from_millis);
        let Some(there) = there.filter(|there| there.is_on_calendar() && self.at.is_on_calendar()) else {
            return write!(f, "{}", self.at);
        };
        let text = there.to_string();
        let minute = text.get(..16).unwrap_or(&text).replace('T', " ");
        match self.offset {
            Some(offset) => write!(f, "{minute} {offset}"),
            None => write!(f, "{minute} UTC"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_shown_in_its_own_offset_and_beyond_the_calendar_as_a_number() {
        let at = At::from_millis(1_938_153_600_000);
        let shown = |offset| When { at, offset }.to_string();
        assert_eq!(shown(None), "2031-06-02 08:00 UTC");
        assert_eq!(shown(UtcOffset::from_minutes(-210)), "2031-06-02 04:30 -03:30");
        assert_eq!(shown(Some(UtcOffset::UTC)), "2031-06-02 08:00 +00:00");
        let last = At::from_millis(253_402_300_799_999);
        for at in [last, At::from_millis(i64::MAX), At::from_millis(i64::MIN), At::from_millis(-1)] {
            let shown = When { at, offset: UtcOffset::from_minutes(120) }.to_string();
            assert!(!shown.is_empty() && at.date().to_string().len() == 10, "{shown}");
        }
    }
}
