//! The log's own history: what was written, when and by whom, what each stage found, when the closing was decided.

use super::judged::base_unit;
use super::{Gate, ObligationKind, ValueU, Verdict};
use crate::history::Said;
use quantity::Kind;
use record::GateState;
use serde::Serialize;

/// An entry, when and by whom.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EntryView {
    /// Entry number.
    pub entry: u64,
    /// When, ISO 8601 UTC.
    pub at: String,
    /// When, as its writer's clock showed it.
    pub when: String,
    /// By whom.
    pub by: String,
}

impl<T> From<&Said<T>> for EntryView {
    fn from(said: &Said<T>) -> Self {
        let (at, when) = (said.when.at.to_string(), said.when.to_string());
        Self { entry: said.seq, at, when, by: said.by.clone() }
    }
}

/// The content of an entry, with its time and writer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Told<T> {
    #[serde(flatten)]
    pub on: EntryView,
    #[serde(flatten)]
    pub what: T,
}

impl<T> Told<T> {
    /// The contents of some entries, as shown.
    pub(crate) fn all<S>(said: &[Said<S>], shown: impl Fn(&S) -> T) -> Vec<Self> {
        said.iter().map(|said| Self { on: said.into(), what: shown(&said.what) }).collect()
    }
}

/// A remark, or why the plan was replaced.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Remark {
    pub text: String,
}

impl Remark {
    pub(crate) fn of(text: &str) -> Self {
        Self { text: text.to_owned() }
    }
}

/// The decision to close: made when a stage after the closing one began, and unchanged since.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DecisionView {
    /// The last entry it depends on.
    #[serde(flatten)]
    pub on: EntryView,
    /// The closing stage.
    pub stage: String,
    /// The stage that began after it.
    pub before: String,
    /// The gate with what was found out later about its evidence: withdrawals, checks of instruments, sign-offs.
    pub now: GateState,
    /// The gate with that taken into account.
    #[serde(skip)]
    pub by_now: Gate,
}

/// Something that a stage measured and judged, as of its end.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StageFinding {
    /// The kind of obligation it is about.
    pub kind: ObligationKind,
    /// Its name in the plan.
    pub about: String,
    /// Where along the span, of a station.
    pub span_mm: Option<f64>,
    /// The quantity; its base unit in JSON.
    #[serde(serialize_with = "base_unit")]
    pub unit: Kind,
    pub value: f64,
    /// Half the width of its 95 % interval over 1.96.
    pub u: f64,
    /// Lower limit.
    pub lower: Option<f64>,
    /// Upper limit.
    pub upper: Option<f64>,
    /// The verdict; `None` without a limit, `stale` if it was not measured again after a move or rework.
    pub verdict: Option<Verdict>,
    /// What the stage had first found, before the first move or rework that disturbed it.
    pub before: Option<ValueU>,
    /// The stage's first reading behind it.
    pub first_entry: u64,
    pub last_entry: u64,
}

/// A reading as the instrument showed it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ShownReading {
    /// Entry number.
    pub entry: u64,
    /// The value shown, in the base unit.
    pub value: f64,
    /// The step it was read to.
    pub resolution: f64,
    /// The instrument's facing.
    pub facing: Option<record::Facing>,
    /// The temperature taken with it, in °C.
    pub temperature_c: Option<f64>,
}
