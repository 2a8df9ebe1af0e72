//! Flags of a sample: letters, upper case where they bar the value.

use core::ops::{BitOr, BitOrAssign};

/// A set of flags.
///
/// In a line they are letters, each at most once and in alphabet order (upper case first), or `-`
/// for none. An upper-case letter bars the value: it may be shown, never taken as a reading. That
/// holds for letters this version does not know, too.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Flags(u16);

/// The letters of this version, in the order they stand in a line.
const LETTERS: [(u8, Flags); 8] = [
    (b'B', Flags::BATTERY_FLAT),
    (b'H', Flags::HELD),
    (b'O', Flags::OVER_RANGE),
    (b'W', Flags::WARMING_UP),
    (b'l', Flags::BATTERY_LOW),
    (b'm', Flags::MOVING),
    (b'r', Flags::RESTARTED),
    (b'z', Flags::ZEROED),
];

impl Flags {
    /// No flag.
    pub const NONE: Self = Self(0);
    /// `B`: the supply is too low for the value to be trusted.
    pub const BATTERY_FLAT: Self = Self(1);
    /// `H`: the display is held; this is not the value now.
    pub const HELD: Self = Self(1 << 1);
    /// `O`: outside the range of the sensor.
    pub const OVER_RANGE: Self = Self(1 << 2);
    /// `W`: the sensor has not warmed up yet.
    pub const WARMING_UP: Self = Self(1 << 3);
    /// An upper-case letter of a later version.
    pub const UNKNOWN_BAR: Self = Self(1 << 4);
    /// `l`: the battery should be changed soon.
    pub const BATTERY_LOW: Self = Self(1 << 8);
    /// `m`: the board itself judges that the value is still moving.
    pub const MOVING: Self = Self(1 << 9);
    /// `r`: the first sample since the board started.
    pub const RESTARTED: Self = Self(1 << 10);
    /// `z`: a zero was set by a person or by command; the value counts from there.
    pub const ZEROED: Self = Self(1 << 11);
    /// A lower-case letter of a later version.
    pub const UNKNOWN_NOTE: Self = Self(1 << 12);

    /// Whether every flag of `other` is in this set.
    #[must_use]
    pub const fn contains(self, other: Self) -> bool {
        self.0 & other.0 == other.0
    }

    /// Whether any flag bars the value from being taken as a reading.
    #[must_use]
    pub const fn bars(self) -> bool {
        self.0 & 0xFF != 0
    }

    /// Reads the flags field of a line; nothing if it is not one.
    #[inline]
    #[must_use]
    pub fn from_field(field: &[u8]) -> Option<Self> {
        if field == b"-" {
            return Some(Self::NONE);
        }
        let mut flags = Self::NONE;
        let mut last = 0;
        for &letter in field {
            if !letter.is_ascii_alphabetic() || letter <= last {
                return None;
            }
            last = letter;
            flags |= Self::from_letter(letter);
        }
        (last != 0).then_some(flags)
    }

    /// The letters of the set, in order. Flags of later versions have no letter here.
    pub fn letters(self) -> impl Iterator<Item = u8> {
        LETTERS.into_iter().filter(move |(_, flag)| self.contains(*flag)).map(|(letter, _)| letter)
    }

    fn from_letter(letter: u8) -> Self {
        match LETTERS.iter().find(|(known, _)| *known == letter) {
            Some((_, flag)) => *flag,
            None if letter.is_ascii_uppercase() => Self::UNKNOWN_BAR,
            None => Self::UNKNOWN_NOTE,
        }
    }
}

impl BitOr for Flags {
    type Output = Self;

    fn bitor(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

impl BitOrAssign for Flags {
    fn bitor_assign(&mut self, other: Self) {
        self.0 |= other.0;
    }
}

#[cfg(test)]
mod tests;
