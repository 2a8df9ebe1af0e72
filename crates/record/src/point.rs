//! What is measured and where: `incidence@S4`, `height@rear:S9`, `level@root-post`.

use quantity::Kind;
use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// What is measured at a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PointKind {
    /// Tilt of a post or rail along the span, positive outboard end up. Place: a post.
    Level,
    /// Tilt of a post or rail fore and aft, positive leading edge up. Place: a post.
    Cross,
    /// A diagonal of a bay. Place: the diagonal's name.
    Diagonal,
    /// Distance of a station from the root datum. Place: a station.
    Spacing,
    /// Offset of a spar from a stretched line, positive aft or up. Place: spar and station.
    Offset,
    /// Slope of a step of a level walk along a spar, ending at the station. Place: spar and station.
    Walk,
    /// Angle of the section with the horizontal of the design attitude, positive nose up. Place: a station.
    Incidence,
    /// Height of a spar above a common datum. Place: spar and station.
    Height,
    /// Horizontal distance of a spar from a plumb line. Place: spar and station.
    Plumb,
    /// Diameter of a bush's bore. Place: a bush.
    Bore,
    /// Centre of a bush, aft. Place: a bush.
    BoreAft,
    /// Centre of a bush, up. Place: a bush.
    BoreUp,
    /// A spot check. Place: its name.
    Spot,
}

impl PointKind {
    /// Every kind, in the order of work on a wing.
    pub const ALL: [Self; 13] = [
        Self::Level,
        Self::Cross,
        Self::Diagonal,
        Self::Spacing,
        Self::Offset,
        Self::Walk,
        Self::Incidence,
        Self::Height,
        Self::Plumb,
        Self::Bore,
        Self::BoreAft,
        Self::BoreUp,
        Self::Spot,
    ];

    /// The word before the `@`.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Level => "level",
            Self::Cross => "cross",
            Self::Diagonal => "diagonal",
            Self::Spacing => "spacing",
            Self::Offset => "offset",
            Self::Walk => "walk",
            Self::Incidence => "incidence",
            Self::Height => "height",
            Self::Plumb => "plumb",
            Self::Bore => "bore",
            Self::BoreAft => "bore-aft",
            Self::BoreUp => "bore-up",
            Self::Spot => "spot",
        }
    }

    /// The quantity of its readings; for a spot check the plan says (`None` here).
    #[must_use]
    pub const fn quantity(self) -> Option<Kind> {
        match self {
            Self::Level | Self::Cross | Self::Walk | Self::Incidence => Some(Kind::Angle),
            Self::Diagonal
            | Self::Spacing
            | Self::Offset
            | Self::Height
            | Self::Plumb
            | Self::Bore
            | Self::BoreAft
            | Self::BoreUp => Some(Kind::Length),
            Self::Spot => None,
        }
    }

    /// True where the place is a spar and a station (`rear:S9`).
    #[must_use]
    pub const fn on_spar(self) -> bool {
        matches!(self, Self::Offset | Self::Walk | Self::Height | Self::Plumb)
    }

    /// True where the instrument's facing sets the sign, so that a reversal pair can be taken.
    #[must_use]
    pub const fn reverses(self) -> bool {
        matches!(self, Self::Level | Self::Cross | Self::Walk | Self::Incidence)
    }
}

/// What is measured and where.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Point {
    kind: PointKind,
    spar: String,
    place: String,
}

/// The text does not name a point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PointParseError {
    /// The text as given.
    pub text: String,
    /// What is wrong with it.
    pub why: &'static str,
}

impl fmt::Display for PointParseError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}` is not a point: {}", self.text, self.why)
    }
}

impl std::error::Error for PointParseError {}

impl Point {
    /// A point at a station, post, bush, diagonal or spot check.
    #[must_use]
    pub fn at(kind: PointKind, place: &str) -> Self {
        Self { kind, spar: String::new(), place: place.to_owned() }
    }

    /// A point on a spar at a station.
    #[must_use]
    pub fn on(kind: PointKind, spar: &str, station: &str) -> Self {
        Self { kind, spar: spar.to_owned(), place: station.to_owned() }
    }

    /// What is measured.
    #[must_use]
    pub const fn kind(&self) -> PointKind {
        self.kind
    }

    /// The spar, for the kinds that lie on one.
    #[must_use]
    pub fn spar(&self) -> Option<&str> {
        (!self.spar.is_empty()).then_some(self.spar.as_str())
    }

    /// The station, post, bush, diagonal or spot check.
    #[must_use]
    pub fn place(&self) -> &str {
        &self.place
    }
}

impl fmt::Display for Point {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.spar() {
            Some(spar) => write!(f, "{}@{}:{}", self.kind.word(), spar, self.place),
            None => write!(f, "{}@{}", self.kind.word(), self.place),
        }
    }
}

impl FromStr for Point {
    type Err = PointParseError;
    fn from_str(text: &str) -> Result<Self, PointParseError> {
        let wrong = |why| PointParseError { text: text.to_owned(), why };
        let (word, place) = text
            .trim()
            .split_once('@')
            .ok_or_else(|| wrong("write what is measured, @, and where, as in incidence@S4"))?;
        let kind = PointKind::ALL.into_iter().find(|k| k.word() == word).ok_or_else(|| {
            wrong(
                "what is measured must be one of level, cross, diagonal, spacing, offset, walk, incidence, \
                 height, plumb, bore, bore-aft, bore-up, spot",
            )
        })?;
        if place.is_empty() {
            return Err(wrong("the place after @ is missing"));
        }
        if kind.on_spar() {
            let (spar, station) = place
                .split_once(':')
                .ok_or_else(|| wrong("the place must be a spar and a station, as in height@rear:S9"))?;
            if spar.is_empty() || station.is_empty() {
                return Err(wrong("the place must be a spar and a station, as in height@rear:S9"));
            }
            return Ok(Self::on(kind, spar, station));
        }
        Ok(Self::at(kind, place))
    }
}

impl TryFrom<String> for Point {
    type Error = PointParseError;
    fn try_from(text: String) -> Result<Self, PointParseError> {
        text.parse()
    }
}

impl From<Point> for String {
    fn from(point: Point) -> Self {
        point.to_string()
    }
}
