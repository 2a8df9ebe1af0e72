//! One row of the log.

use crate::{
    At, Instrument, InstrumentCheck, Move, OpenItem, Reading, Rework, Signed, StageBegun, UtcOffset, When,
    WingTaken,
};
use serde::{Deserialize, Serialize};

/// One row of the log; never changed once written.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its number, from 1, without gaps.
    pub seq: u64,
    /// When it was written.
    pub at: At,
    /// Who wrote it.
    pub by: String,
    /// Offset of the writer's clock from UTC; unknown for entries of format 1.
    pub offset: Option<UtcOffset>,
    /// What happened.
    pub what: What,
}

impl Entry {
    /// The entry with this number. The entries are in order, but some may be missing.
    #[must_use]
    pub fn find(entries: &[Self], seq: u64) -> Option<&Self> {
        entries.binary_search_by_key(&seq, |e| e.seq).ok().and_then(|at| entries.get(at))
    }

    /// When it was written, to be shown in the writer's own offset.
    #[must_use]
    pub const fn when(&self) -> When {
        When { at: self.at, offset: self.offset }
    }
}

/// What happened. In JSON it is `{"kind": .., "body": {..}}`; the two are separate because an instrument has a `kind`
/// field of its own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", content = "body", rename_all = "kebab-case")]
pub enum What {
    /// The log was started from a plan. Always the first entry.
    Started {
        /// The full text of the plan.
        plan: String,
        /// The program and version that wrote the log.
        program: String,
    },
    /// The plan was replaced, with a reason.
    Replanned {
        /// The full text of the new plan.
        plan: String,
        /// Why.
        reason: String,
    },
    /// An instrument was entered, or entered again with other data.
    Instrument(Instrument),
    /// An instrument was checked in the shop.
    InstrumentCheck(InstrumentCheck),
    /// A reading was taken.
    Reading(Reading),
    /// An earlier entry was withdrawn.
    Withdrawn {
        /// The number of the entry withdrawn.
        seq: u64,
        /// Why.
        reason: String,
    },
    /// A stage of the build began.
    Stage(StageBegun),
    /// A support was moved.
    Move(Move),
    /// One thing was worked on.
    Rework(Rework),
    /// Something left open on purpose was opened, closed or carried past the gate.
    OpenItem(OpenItem),
    /// One record of a drift watch.
    Drift {
        /// The point watched.
        point: crate::Point,
        /// Mean over the span, in the base unit.
        mean: f64,
        /// Smallest value.
        least: f64,
        /// Largest value.
        most: f64,
        samples: u32,
        /// Length of the span in seconds.
        seconds: u32,
        /// Temperature, if known.
        temperature: Option<quantity::Celsius>,
        /// The shift found in this record, if any.
        shift: Option<DriftShift>,
    },
    /// Somebody signed.
    Signed(Signed),
    /// A wing's log was taken up into the aeroplane's log.
    Wing(WingTaken),
    /// A remark.
    Note {
        /// The remark.
        text: String,
    },
}

impl What {
    #[must_use]
    pub const fn reading(&self) -> Option<&Reading> {
        if let Self::Reading(reading) = self { Some(reading) } else { None }
    }

    /// The text of the plan that it puts in force.
    #[must_use]
    pub fn plan(&self) -> Option<&str> {
        match self {
            Self::Started { plan, .. } | Self::Replanned { plan, .. } => Some(plan),
            _ => None,
        }
    }
}

/// A shift found by a drift watch; in JSON a list of the two.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "(f64, At)", into = "(f64, At)")]
pub struct DriftShift {
    /// In the base unit.
    pub size: f64,
    /// When it began.
    pub since: At,
}

impl From<(f64, At)> for DriftShift {
    fn from((size, since): (f64, At)) -> Self {
        Self { size, since }
    }
}

impl From<DriftShift> for (f64, At) {
    fn from(shift: DriftShift) -> Self {
        (shift.size, shift.since)
    }
}

/// Whether a later entry can withdraw an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Withdrawable {
    /// Yes; the usual reason will do.
    Freely,
    /// Yes, but the person must type the reason: more than a slip of theirs depends on it.
    WithReason,
    /// Never; what to do instead.
    Never(Instead),
}

/// What is done instead of withdrawing an entry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Instead {
    #[error("the log begins with it")]
    Nothing,
    #[error("replan with the earlier plan instead")]
    Replan,
    #[error("a signature stays; sign again to cover the entries written since")]
    SignAgain,
}

impl What {
    /// Whether an entry of this kind can be withdrawn. A withdrawal can be withdrawn too: then its target counts
    /// again.
    #[must_use]
    pub const fn withdrawable(&self) -> Withdrawable {
        match self {
            Self::Reading(_)
            | Self::Move(_)
            | Self::Note { .. }
            | Self::OpenItem(_)
            | Self::Rework(_)
            | Self::Instrument(_)
            | Self::Drift { .. }
            | Self::Wing(_)
            | Self::Withdrawn { .. } => Withdrawable::Freely,
            Self::Stage(_) | Self::InstrumentCheck(_) => Withdrawable::WithReason,
            Self::Started { .. } => Withdrawable::Never(Instead::Nothing),
            Self::Replanned { .. } => Withdrawable::Never(Instead::Replan),
            Self::Signed(_) => Withdrawable::Never(Instead::SignAgain),
        }
    }
}
