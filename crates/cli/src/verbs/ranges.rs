//! Numbers of entries as a person writes them: `12`, `14-18`, `90-`.

use crate::refusal::Refusal;
use std::str::FromStr;

/// A range of entries, both ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Numbers {
    first: u64,
    /// `None` means to the end.
    last: Option<u64>,
}

impl Numbers {
    pub fn contains(self, seq: u64) -> bool {
        seq >= self.first && self.last.is_none_or(|last| seq <= last)
    }

    /// Every number in it, up to the last entry; a single number beyond that is kept, so that it can be reported.
    pub fn each(self, head: u64) -> impl Iterator<Item = u64> {
        let end = self.last.unwrap_or(head).min(head.max(self.first));
        self.first..=end
    }

    /// Its end, if that is written and beyond the last entry: a slip, and a withdrawal would otherwise go to the end
    /// of the log.
    pub fn beyond(self, head: u64) -> Option<u64> {
        self.last.filter(|last| *last > head)
    }

    pub fn is_one(self) -> bool {
        self.last == Some(self.first)
    }
}

impl FromStr for Numbers {
    type Err = Refusal;

    fn from_str(text: &str) -> Result<Self, Refusal> {
        let number = |part: &str| part.trim().parse::<u64>().map_err(Refusal::NoEntryNumber);
        let Some((first, last)) = text.split_once('-') else {
            let one = number(text)?;
            return Ok(Self { first: one, last: Some(one) });
        };
        let first = number(first)?;
        let last = if last.trim().is_empty() { None } else { Some(number(last)?) };
        if last.is_some_and(|last| last < first) {
            return Err(Refusal::RunBackwards(text.to_owned()));
        }
        Ok(Self { first, last })
    }
}

#[cfg(test)]
mod tests {
    use super::Numbers;

    #[test]
    fn runs_are_read_and_nonsense_is_not() {
        let each = |text: &str| text.parse::<Numbers>().unwrap().each(20).collect::<Vec<_>>();
        assert_eq!(each("14-18"), [14, 15, 16, 17, 18]);
        assert_eq!(each("19-"), [19, 20]);
        assert_eq!(each("7"), [7]);
        assert_eq!(each("99"), [99]);
        assert_eq!(each("19-18446744073709551615"), [19, 20]);
        for text in ["", "-3", "5-4", "a", "3-b", "1.5", "18446744073709551616"] {
            assert!(text.parse::<Numbers>().is_err(), "{text}");
        }
    }
}
