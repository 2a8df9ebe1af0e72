//! What gave a verdict.

use super::ObligationKind;
use serde::{Serialize, Serializer};
use std::fmt;

/// What gave a verdict, by the plan's name of it. In words and in JSON it reads `station S4`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum JudgedBy {
    /// The limits of the value itself.
    OwnLimits,
    /// Tilt of a post along the span.
    Level(String),
    /// Tilt of a post fore and aft.
    Cross(String),
    /// Twist at a station.
    Station(String),
    /// Straightness of a spar.
    Straightness(String),
    /// Spacing of a station.
    Spacing(String),
    /// Squareness of a bay.
    Square(String),
    /// Clearance of a shaft.
    Clearance(String),
    /// Something of the rigged aeroplane, by its whole name.
    Rigging(String),
}

impl JudgedBy {
    /// The name in the plan of what is judged; none for a value's own limits.
    #[must_use]
    pub fn about(&self) -> Option<&str> {
        match self {
            Self::OwnLimits => None,
            Self::Level(name)
            | Self::Cross(name)
            | Self::Station(name)
            | Self::Straightness(name)
            | Self::Spacing(name)
            | Self::Square(name)
            | Self::Clearance(name)
            | Self::Rigging(name) => Some(name),
        }
    }

    /// The kind of obligation that the judgement discharges.
    #[must_use]
    pub const fn kind(&self) -> ObligationKind {
        match self {
            Self::OwnLimits => ObligationKind::Spot,
            Self::Level(_) => ObligationKind::Level,
            Self::Cross(_) => ObligationKind::Cross,
            Self::Station(_) => ObligationKind::Station,
            Self::Straightness(_) => ObligationKind::Straightness,
            Self::Spacing(_) => ObligationKind::Spacing,
            Self::Square(_) => ObligationKind::Square,
            Self::Clearance(_) => ObligationKind::Clearance,
            Self::Rigging(_) => ObligationKind::Rigging,
        }
    }
}

impl fmt::Display for JudgedBy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OwnLimits => f.write_str("its own limits"),
            Self::Level(post) => write!(f, "level of {post}"),
            Self::Cross(post) => write!(f, "cross level of {post}"),
            Self::Station(station) => write!(f, "station {station}"),
            Self::Straightness(spar) => write!(f, "straightness of {spar}"),
            Self::Spacing(station) => write!(f, "spacing of {station}"),
            Self::Square(bay) => write!(f, "{bay} out of square"),
            Self::Clearance(shaft) => write!(f, "clearance of {shaft}"),
            Self::Rigging(name) => f.write_str(name),
        }
    }
}

impl Serialize for JudgedBy {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}
