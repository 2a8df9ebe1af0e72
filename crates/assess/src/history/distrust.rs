//! Why a reading is doubtful.

use quantity::shown::Scale;
use record::Point;
use std::cmp::Ordering;

/// Why a reading is doubtful; what depends on it is doubtful too. Texts are names of instruments, except the station
/// of [`Self::WaysDisagree`]; `entry` is that of the check or the shift.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, thiserror::Error)]
pub enum Distrust {
    #[error("{0} was read without an instrument's name")]
    NoInstrument(Point),
    #[error("{0} was unknown when it was used")]
    UnknownInstrument(String),
    #[error("{0} was used after its check ran out")]
    PastDue(String),
    /// The check before or after the reading.
    #[error("{instrument} failed its check (entry {entry})")]
    FailedCheck { instrument: String, entry: u64 },
    /// The same, if the check was entered under another name of the same number.
    #[error("{instrument} has the number of {checked}, which failed its check (entry {entry})")]
    FailedUnder { instrument: String, checked: String, entry: u64 },
    #[error("the zero of {instrument} moved within round {round}")]
    ZeroMoved { instrument: String, round: u32 },
    #[error("{0} repeats worse than it claims")]
    RepeatsWorse(String),
    #[error("a watch of {watched} found a shift afterwards (entry {entry})")]
    Shift { watched: Point, entry: u64 },
    #[error("the readings of {0} contradict each other")]
    Disagree(Point),
    #[error("two rounds of {0} contradict each other, with nothing moved between")]
    RoundsDisagree(Point),
    #[error("the angle of {0} contradicts the angle from its spars")]
    WaysDisagree(String),
    /// The last entry of the pair that showed the zero.
    #[error("{instrument} was read one way round, and showed {zero} (entry {entry})")]
    ZeroBeyond { instrument: String, entry: u64, zero: ZeroShown },
    #[error("{what}: read in rounds {}, each from its own datum", listed(.rounds))]
    SeveralSetUps { what: String, rounds: Vec<u32> },
    #[error("{read} was read before the fuselage had its present tilt ({tilt})")]
    TiltChanged { read: Point, tilt: Point },
    #[error("{0} states no accuracy and was read one way round: its zero is unknown")]
    ZeroUnknown(String),
    #[error("{0} states no accuracy: how far off it can be is not known")]
    AccuracyUnknown(String),
}

/// A zero beyond the accuracy of its instrument, in degrees; `scale` is how it is said.
#[derive(Clone, Copy, Debug, thiserror::Error)]
#[error("a zero of {}, beyond its limit of {}",
    .scale.signed_with(*.zero, .scale.decimals(2)), .scale.exact_with(*.accuracy))]
pub struct ZeroShown {
    pub zero: f64,
    pub accuracy: f64,
    pub scale: Scale,
}

impl Ord for ZeroShown {
    fn cmp(&self, other: &Self) -> Ordering {
        self.zero.total_cmp(&other.zero).then(self.accuracy.total_cmp(&other.accuracy))
    }
}

impl PartialOrd for ZeroShown {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for ZeroShown {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for ZeroShown {}

impl Distrust {
    /// That an instrument failed a check, which was entered under one of its names.
    pub(crate) fn failed(instrument: &str, checked: &str, entry: u64) -> Self {
        let (instrument, checked) = (instrument.to_owned(), checked.to_owned());
        if instrument == checked {
            Self::FailedCheck { instrument, entry }
        } else {
            Self::FailedUnder { instrument, checked, entry }
        }
    }

    /// The instrument concerned, if any.
    pub fn instrument(&self) -> Option<&str> {
        match self.origin() {
            Origin::Instrument(name) => Some(name),
            Origin::Other(_) => None,
        }
    }

    /// Whether only the zero of the instrument is in doubt, which cancels in a difference of two of its readings.
    pub const fn is_of_zero(&self) -> bool {
        matches!(self, Self::ZeroUnknown(_) | Self::ZeroBeyond { .. })
    }

    /// The name of the cause: doubts with the same cause have the same remedy.
    pub fn cause(&self) -> String {
        match self.origin() {
            Origin::Instrument(name) => format!("instrument {name}"),
            Origin::Other(cause) => cause,
        }
    }

    fn origin(&self) -> Origin<'_> {
        match self {
            Self::UnknownInstrument(name)
            | Self::PastDue(name)
            | Self::ZeroUnknown(name)
            | Self::AccuracyUnknown(name)
            | Self::RepeatsWorse(name)
            | Self::FailedCheck { instrument: name, .. }
            | Self::FailedUnder { instrument: name, .. }
            | Self::ZeroBeyond { instrument: name, .. }
            | Self::ZeroMoved { instrument: name, .. } => Origin::Instrument(name),
            Self::NoInstrument(_) => Origin::Other("no instrument".to_owned()),
            Self::Shift { entry, .. } => Origin::Other(format!("shift {entry}")),
            Self::Disagree(point) | Self::RoundsDisagree(point) => {
                Origin::Other(format!("disagreement {point}"))
            }
            Self::WaysDisagree(station) => Origin::Other(format!("disagreement {station}")),
            Self::SeveralSetUps { what, .. } => Origin::Other(format!("set-ups {what}")),
            Self::TiltChanged { tilt, .. } => Origin::Other(format!("tilt {tilt}")),
        }
    }

    /// What a person does about it.
    pub fn settles(&self) -> String {
        match self {
            Self::NoInstrument(_) => "measure again and name the instrument".to_owned(),
            Self::UnknownInstrument(name) => format!("enter {name} as an instrument, then measure again"),
            Self::PastDue(_) => "have the instrument checked, then measure again".to_owned(),
            Self::FailedCheck { .. } | Self::FailedUnder { .. } => {
                "mend the instrument until its check passes, then measure again".to_owned()
            }
            Self::RepeatsWorse(name) => {
                format!("check {name}, or enter the repeatability it really has, and measure again")
            }
            Self::ZeroMoved { .. } => "find out why, then walk the round again".to_owned(),
            Self::ZeroBeyond { instrument, .. } => {
                format!("read it end for end, or check {instrument} and measure again")
            }
            Self::Shift { .. } => "find out what moved, then measure again".to_owned(),
            Self::Disagree(_) => "withdraw the wrong reading, or measure in a new round".to_owned(),
            Self::RoundsDisagree(_) => {
                "find out what moved, or withdraw the wrong round; then measure again".to_owned()
            }
            Self::SeveralSetUps { .. } => "measure all of it again in one round".to_owned(),
            Self::TiltChanged { .. } => "measure it again".to_owned(),
            Self::WaysDisagree(_) => "measure both again; withdraw the wrong one".to_owned(),
            Self::AccuracyUnknown(name) => format!("enter the accuracy of {name} and measure again"),
            Self::ZeroUnknown(name) => {
                format!("read it end for end, or enter the accuracy of {name} and measure again")
            }
        }
    }
}

/// Where a doubt comes from.
enum Origin<'d> {
    /// An instrument, by its name.
    Instrument(&'d str),
    /// Something else, named.
    Other(String),
}

/// `1, 2 and 4`.
fn listed(rounds: &[u32]) -> String {
    let mut words = rounds.iter().map(u32::to_string).collect::<Vec<_>>();
    let last = words.pop().unwrap_or_default();
    if words.is_empty() { last } else { format!("{} and {last}", words.join(", ")) }
}
