//! Why a reading is not to be relied on.

use record::Point;
use std::fmt;

/// Why a reading is not to be relied on; what rests on it is doubtful.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Distrust {
    /// It names no instrument.
    NoInstrument(Point),
    /// Nothing was known of its instrument when it was taken.
    UnknownInstrument(String),
    /// Its instrument was past its check date.
    PastDue(String),
    /// The check of its instrument before or after it failed.
    FailedCheck {
        instrument: String,
        /// The entry of the check.
        entry: u64,
    },
    /// The zero of its instrument moved within the round.
    ZeroMoved { instrument: String, round: u32 },
    /// A watch found a shift after it was taken.
    Shift {
        watched: Point,
        /// The entry of the shift.
        entry: u64,
    },
    /// The readings of the point differ by more than they may.
    Disagree(Point),
    /// Two rounds of the point differ by more than they may, with nothing moved between.
    RoundsDisagree(Point),
    /// The angle of a station and the one its spars make differ by more than they may.
    WaysDisagree(String),
    /// Its instrument was read one way round and states no accuracy, so nobody knows its zero.
    ZeroUnknown(String),
}

impl Distrust {
    /// The instrument it is about, if it is about one.
    #[must_use]
    pub fn instrument(&self) -> Option<&str> {
        match self {
            Self::UnknownInstrument(name)
            | Self::PastDue(name)
            | Self::ZeroUnknown(name)
            | Self::FailedCheck { instrument: name, .. }
            | Self::ZeroMoved { instrument: name, .. } => Some(name),
            Self::NoInstrument(_)
            | Self::Shift { .. }
            | Self::Disagree(_)
            | Self::RoundsDisagree(_)
            | Self::WaysDisagree(_) => None,
        }
    }

    /// The name of the cause: what has the same one is mended by the same thing.
    #[must_use]
    pub fn cause(&self) -> String {
        match self {
            Self::NoInstrument(_) => "no instrument".to_owned(),
            Self::Shift { entry, .. } => format!("shift {entry}"),
            Self::Disagree(point) | Self::RoundsDisagree(point) => format!("disagreement {point}"),
            Self::WaysDisagree(station) => format!("disagreement {station}"),
            Self::UnknownInstrument(name)
            | Self::PastDue(name)
            | Self::ZeroUnknown(name)
            | Self::FailedCheck { instrument: name, .. }
            | Self::ZeroMoved { instrument: name, .. } => format!("instrument {name}"),
        }
    }

    /// What a person does about it.
    #[must_use]
    pub fn settles(&self) -> String {
        match self {
            Self::NoInstrument(_) => "measure again and name the instrument".to_owned(),
            Self::UnknownInstrument(name) => format!("enter {name}, then measure again"),
            Self::PastDue(_) => "have the instrument checked, then measure again".to_owned(),
            Self::FailedCheck { .. } => {
                "mend the instrument until its check passes, then measure again".to_owned()
            }
            Self::ZeroMoved { .. } => "find out why, then walk the round again".to_owned(),
            Self::Shift { .. } => "find out what moved, then measure again".to_owned(),
            Self::Disagree(_) => "withdraw the wrong reading, or measure in a new round".to_owned(),
            Self::RoundsDisagree(_) => {
                "find out what moved, or withdraw the wrong round; then measure again".to_owned()
            }
            Self::WaysDisagree(_) => "measure both again; withdraw the wrong one".to_owned(),
            Self::ZeroUnknown(name) => {
                format!("read it end for end, or enter the accuracy of {name} and measure again")
            }
        }
    }
}

impl fmt::Display for Distrust {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoInstrument(point) => write!(f, "{point} was read without an instrument's name"),
            Self::UnknownInstrument(name) => write!(f, "nothing was known of {name} when it was used"),
            Self::PastDue(name) => write!(f, "{name} was used after its check ran out"),
            Self::FailedCheck { instrument, entry } => {
                write!(f, "{instrument} failed its check (entry {entry})")
            }
            Self::ZeroMoved { instrument, round } => {
                write!(f, "the zero of {instrument} moved within round {round}")
            }
            Self::Shift { watched, entry } => {
                write!(f, "a watch of {watched} found a shift afterwards (entry {entry})")
            }
            Self::Disagree(point) => write!(f, "the readings of {point} contradict each other"),
            Self::RoundsDisagree(point) => {
                write!(f, "two rounds of {point} contradict each other, with nothing moved between")
            }
            Self::WaysDisagree(station) => {
                write!(f, "the angle of {station} and the one that its spars make contradict each other")
            }
            Self::ZeroUnknown(name) => {
                write!(f, "{name} states no accuracy and was read one way round: its zero is not known")
            }
        }
    }
}
