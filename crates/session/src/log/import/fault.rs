//! What can be wrong with a line of a table, including its header.

use crate::clock::NoInstant;
use crate::{brief, shown};
use assess::expect::{Impossible, Question, Step};
use quantity::{Kind, TypedError, nearest};
use record::{At, Facing, Point};
use std::error::Error;
use thiserror::Error;

type Cause = Box<dyn Error + Send + Sync>;

/// A line of a table that cannot be imported.
#[derive(Debug, Error)]
#[error("line {line}: {why}")]
pub struct BadLine {
    /// Its number; the header is line 1.
    pub line: u64,
    #[source]
    pub why: LineFault,
}

/// Why a line cannot be imported; its number precedes the message.
#[derive(Debug, Error)]
pub enum LineFault {
    #[error("cannot be read: {0}")]
    Unread(#[source] Cause),
    #[error("has bytes that are not UTF-8")]
    NotUtf8(#[source] Cause),
    #[error(
        "has {have} fields where the header has {wanted}; put a value or note with a comma in quotes, and \
            write the decimal mark as a point"
    )]
    Fields { have: u64, wanted: u64 },
    #[error(transparent)]
    Csv(csv::Error),
    #[error("is not a line of an export: {0}")]
    NoExport(#[from] serde_json::Error),
    // The header
    #[error("column `{}` appears twice", brief(.0))]
    ColumnTwice(String),
    #[error("it has no `value` column, nor one with a unit such as `value_deg` or `value_mm`")]
    NoValueColumn,
    #[error("it has no `point` column")]
    NoPointColumn,
    #[error("`{}` has an unknown unit; write value_deg, value_mm, value_in, value_N·m, value_in-lb", brief(.0))]
    UnknownUnit(String),
    #[error("column `{}` is unknown; nearest is `{near}`", brief(.name))]
    NearColumn { name: String, near: &'static str },
    #[error("column `{}` is unknown; columns are {}, temperature_C", brief(.name), .plain.join(", "))]
    UnknownColumn { name: String, plain: &'static [&'static str] },
    // What is in the cells
    #[error("the point is missing")]
    NoPoint,
    #[error("the value is missing")]
    NoValue,
    #[error("more than one value")]
    SeveralValues,
    #[error("{} is in the column of {}", .is.one(), .of.one())]
    OtherColumn { is: Kind, of: Kind },
    #[error("its instrument shows divisions: give them in a column without a unit")]
    UnitOfDivisions,
    #[error("its instrument shows divisions, which have no unit")]
    DivisionsWithUnit,
    #[error("`{}`: {why}", brief(.text))]
    Value {
        text: String,
        #[source]
        why: TypedError,
    },
    #[error(transparent)]
    Temperature(TypedError),
    #[error("{what} `{}` is neither `{}` nor `{}`{}", brief(.text), .of[0], .of[1], nearest_is(*near))]
    Neither { what: &'static str, text: String, of: [&'static str; 2], near: Option<&'static str> },
    #[error("round `{}` is not a whole number from 1 to 1,000,000", brief(.0))]
    Round(String),
    #[error("`{}` has a comma and a point; write one decimal mark", brief(.0))]
    BothMarks(String),
    #[error("`{}` has another decimal mark than the lines before, so it is unclear which is meant", brief(.0))]
    OtherMark(String),
    #[error(transparent)]
    NoInstant(#[from] NoInstant),
    // An export
    #[error("{} is expected at {at}", .wanted.one())]
    OtherQuantity { wanted: Kind, at: Point },
    #[error("its `{0}` is missing")]
    Missing(String),
    #[error("`{}` in `{column}` is not a number", brief(.text))]
    NoNumber { text: String, column: String },
    #[error("`{}` in `{column}` is not a whole number", brief(.text))]
    NoCount {
        text: String,
        column: String,
        #[source]
        why: std::num::ParseIntError,
    },
    #[error("`dial` and `dial_step` go together")]
    HalfADial,
    #[error("what its dial showed does not fit its text and its instrument")]
    OtherDial,
    #[error("its text is `{}` and its value {value}; only one of them can be right", brief(.text))]
    OtherText { text: String, value: String },
    #[error("it cannot have been read to {step}: its text and instrument go to {least}")]
    FinerStep { step: String, least: String },
    #[error("{0} °C is not a possible temperature of a part")]
    NoPartTemperature(f64),
    #[error("{}", other_stage(.then.as_deref(), .now.as_deref()))]
    OtherStage { then: Option<String>, now: Option<String> },
    #[error(
        "is of another wing ({theirs}), and this log is of {ours}. If the wing is the same, take this line out of the table"
    )]
    OtherWing { theirs: String, ours: String },
    #[error("its plan cannot be used, so it cannot be told of which wing it is: {0}")]
    UnreadPlan(#[source] Cause),
    #[error(
        "is entry {seq} of the export, after its entry {after}: import each reading once, in the order of the export"
    )]
    OutOfOrder { seq: u64, after: u64 },
    #[error("it was exported from a log that is not as it was written: {}", shown(.0))]
    OfBrokenLog(String),
    #[error("is entry {0} of this log; take it out of the table")]
    Own(u64),
    #[error(
        "is entry {seq} of this log, which entry {by} withdrew; take it out of the table, or withdraw entry {by}"
    )]
    OwnWithdrawn { seq: u64, by: u64 },
    #[error("was read at {at}, before {since}; take it out of the table")]
    Before { at: At, since: Step },
    // What the log or the plan says of it
    #[error("{0}; if it really is so, write yes in a column `sure`")]
    Asks(Box<Question>),
    #[error("there is no question about this value; leave its `sure` empty")]
    NothingAsked,
    #[error(transparent)]
    Impossible(#[from] Impossible),
    #[error(transparent)]
    Refused(Cause),
}

impl LineFault {
    pub(super) fn no_facing(text: &str) -> Self {
        Self::neither("facing", text, ["forward", "aft"], Facing::TYPED.map(|(word, _)| word))
    }

    /// A word that is neither of two; `known` are all the words for either.
    pub(super) fn neither(
        what: &'static str,
        text: &str,
        of: [&'static str; 2],
        known: impl IntoIterator<Item = &'static str>,
    ) -> Self {
        Self::Neither { what, text: text.to_owned(), of, near: nearest(text, known) }
    }
}

fn other_stage(then: Option<&str>, now: Option<&str>) -> String {
    let then = then
        .map_or_else(|| "before any stage".to_owned(), |stage| format!("in the stage `{}`", brief(stage)));
    match now {
        Some(now) => {
            format!("was read {then}, and this log is in `{}`; take it out of the table", brief(now))
        }
        None => format!("was read {then}, and this log has begun none: begin that stage first"),
    }
}

fn nearest_is(near: Option<&str>) -> String {
    near.map(|near| format!("; nearest is `{near}`")).unwrap_or_default()
}

impl From<csv::Error> for LineFault {
    fn from(why: csv::Error) -> Self {
        match why.kind() {
            csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
                Self::Fields { have: *len, wanted: *expected_len }
            }
            csv::ErrorKind::Utf8 { .. } => Self::NotUtf8(why.into()),
            csv::ErrorKind::Io(_) => Self::Unread(why.into()),
            _ => Self::Csv(why),
        }
    }
}
