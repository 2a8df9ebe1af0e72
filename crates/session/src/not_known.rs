//! A name that is not in the plan or the log.

use crate::{brief, shown};
use quantity::{nearest, nearest_of};
use record::{PointKind, PointParseError};
use std::fmt;
use thiserror::Error;

/// The unknown name, and the nearest known one, if any is near.
#[derive(Debug, Error)]
pub struct NotKnown {
    #[source]
    pub what: Unknown,
    pub nearest: Option<String>,
}

#[derive(Debug, Error)]
pub enum Unknown {
    #[error("`{}` is not a point", brief(.0))]
    LongPoint(String),
    #[error("{}", shown(&.0.to_string()))]
    NoPoint(#[source] PointParseError),
    #[error("`{}` is not in the plan", brief(.0))]
    Point(String),
    #[error("`{}` is not in the plan, whose stations are {} to {}", brief(.place), shown(.first), shown(.last))]
    Place { place: String, first: String, last: String },
    #[error("the plan has no post `{}`", brief(.0))]
    Post(String),
    #[error("`{}` is not a support or foot of the plan", shown(.0))]
    Support(String),
    #[error("stage `{}` is not in the plan", brief(.name))]
    Stage { name: String, all: Vec<String> },
    #[error("the plan has no wing `{}`", brief(.name))]
    Wing { name: String, all: Vec<String> },
    #[error("no open item is called `{}`", brief(.0))]
    OpenItem(String),
    #[error("instrument `{}` is unknown", brief(.0))]
    Instrument(String),
    /// The word for a kind of point.
    #[error("unknown kind of point {}", shown(.0))]
    Kind(String),
    /// A word that is not one of a few.
    #[error("no {what} `{}`", brief(.word))]
    Word { what: &'static str, word: String, all: Vec<String> },
    /// A capacity to sign in, close to a usual one.
    #[error("capacity {}", shown(.0))]
    Capacity(String),
}

impl NotKnown {
    /// A name that is not one of `all`.
    pub(crate) fn name(what: Unknown, name: &str, all: impl IntoIterator<Item = String>) -> Self {
        Self { what, nearest: nearest_of(name, all) }
    }

    /// A word that is not one of `all`; `what` says what it should name.
    pub fn word<W: Into<String>>(what: &'static str, word: &str, all: impl IntoIterator<Item = W>) -> Self {
        let all: Vec<String> = all.into_iter().map(Into::into).collect();
        let nearest = nearest(word, all.iter().map(String::as_str)).map(str::to_owned);
        Self { what: Unknown::Word { what, word: word.to_owned(), all }, nearest }
    }
}

impl fmt::Display for NotKnown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let near = self.nearest.as_deref();
        write!(f, "{}", self.what)?;
        match (&self.what, near) {
            (Unknown::Kind(_), _) => {
                let all: Vec<&str> = PointKind::all().map(PointKind::word).collect();
                let near = near.map(|near| format!(" Nearest: {near}.")).unwrap_or_default();
                write!(f, ".{near} There are {}", all.join(", "))
            }
            (Unknown::Word { all, .. }, _) => {
                let near = near.map(|near| format!("; nearest is `{}`", shown(near))).unwrap_or_default();
                let all: Vec<_> = all.iter().map(|word| shown(word)).collect();
                match all.as_slice() {
                    [one, other] => write!(f, "{near}; write {one} or {other}"),
                    all => write!(f, "{near}; there are {}", all.join(", ")),
                }
            }
            (Unknown::Capacity(_), _) => {
                let (near, usual) = (near.unwrap_or_default(), CAPACITIES.join(" and "));
                write!(
                    f,
                    ": nearest is {near}. Usual are {usual}; any other word that is not so near is accepted as it is"
                )
            }
            (what, Some(near)) => write!(f, "; nearest is `{}`{}", shown(near), what.list()),
            (Unknown::Post(_) | Unknown::Support(_), None) => {
                f.write_str("; `jigtrue plan LOG` shows what it has")
            }
            (Unknown::Stage { all, .. } | Unknown::Wing { all, .. }, None) => {
                let all: Vec<String> = all.iter().map(|name| format!("`{}`", shown(name))).collect();
                write!(f, "; the plan has {}", all.join(", "))
            }
            (Unknown::OpenItem(_), None) => f.write_str("; `jigtrue check` lists what is open"),
            (Unknown::Instrument(_), None) => {
                f.write_str("; enter it first with `jigtrue instrument add`, or in the plan")
            }
            (what, None) => f.write_str(what.list()),
        }
    }
}

impl Unknown {
    /// Where to look them all up.
    const fn list(&self) -> &'static str {
        match self {
            Self::LongPoint(_) | Self::NoPoint(_) | Self::Point(_) | Self::Place { .. } => {
                "\n  jigtrue plan --points lists every point"
            }
            _ => "",
        }
    }
}

/// The usual capacities for signing; others are typed in full.
pub const CAPACITIES: [&str; 2] = ["builder", "inspector"];
