//! What is measured and where: `incidence@S4`, `height@rear:S9`, `level@root-post`.

mod kind;
mod row;
mod rows;

pub use kind::PointKind;
pub use row::{
    Arrow, Design, DisturbedBy, Explained, Go, Judgement, Off, Place, Readings, Reference, Row, Sign,
    Spoilers,
};

use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// What is measured and where.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Point {
    kind: PointKind,
    // Most points have none. An empty `String` would need a call to compare, which is slow.
    spar: Option<String>,
    place: String,
}

/// The text is not a point.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{text}` is not a point: {why}")]
pub struct PointParseError {
    /// The text as given.
    pub text: String,
    /// What is wrong with it.
    pub why: NotAPoint,
}

/// Why a text is not a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotAPoint {
    #[error("write what is measured, @, and where, as in incidence@S4")]
    NoAt,
    /// The word before the `@`.
    #[error("what is measured must be one of {}", PointKind::all().map(PointKind::word).collect::<Vec<_>>().join(", "))]
    UnknownKind,
    #[error("the place after @ is missing")]
    NoPlace,
    #[error("the place must be a spar and a station, as in height@rear:S9")]
    NoSpar,
}

impl Point {
    /// A point at a station, post, bush, diagonal or spot check.
    #[must_use]
    pub fn at(kind: PointKind, place: &str) -> Self {
        Self { kind, spar: None, place: place.to_owned() }
    }
    #[must_use]
    pub fn on(kind: PointKind, spar: &str, station: &str) -> Self {
        let spar = Some(spar.to_owned()).filter(|spar| !spar.is_empty());
        Self { kind, spar, place: station.to_owned() }
    }

    /// What is measured.
    #[must_use]
    pub const fn kind(&self) -> PointKind {
        self.kind
    }

    /// The spar, for the kinds that lie on one.
    #[must_use]
    pub fn spar(&self) -> Option<&str> {
        self.spar.as_deref()
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
        let (word, place) = text.trim().split_once('@').ok_or_else(|| wrong(NotAPoint::NoAt))?;
        let kind =
            PointKind::all().find(|k| k.word() == word).ok_or_else(|| wrong(NotAPoint::UnknownKind))?;
        if place.is_empty() {
            return Err(wrong(NotAPoint::NoPlace));
        }
        if !kind.on_spar() {
            return Ok(Self::at(kind, place));
        }
        match place.split_once(':') {
            Some((spar, station)) if !spar.is_empty() && !station.is_empty() => {
                Ok(Self::on(kind, spar, station))
            }
            _ => Err(wrong(NotAPoint::NoSpar)),
        }
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

#[cfg(test)]
mod tests;
