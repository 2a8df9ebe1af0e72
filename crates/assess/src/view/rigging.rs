//! The rigged aeroplane.

use super::{EntryView, Judged, Verdict, as_said, of_obligation};
use crate::{Because, Broken};
use record::plan::Side;
use record::{GateState, JigStation, Point, WingSigned};
use serde::Serialize;

/// One thing of the rigged aeroplane: an angle, a travel, a tension, a torque, a distance, a yaw, a difference.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RigView {
    /// What it is called (`dihedral of left wing`).
    pub name: String,
    /// Its value, judged if the plan has limits for it.
    pub judged: Judged,
    /// The points it rests on.
    pub points: Vec<Point>,
}

/// Left against right of one rigged thing.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RigPair {
    /// What it is, without the side (`dihedral of wing`).
    pub name: String,
    /// The left one; `None` if it has no value.
    pub left: Option<Judged>,
    /// The right one; `None` if it has no value.
    pub right: Option<Judged>,
    /// Left less right, without their shared errors; judged if the plan has a limit for it, `None` if one of them has
    /// no value.
    pub difference: Option<Judged>,
}

/// Distances that check each other: more of them than yaw and offset need.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RigClosure {
    /// The symmetry they belong to.
    pub name: String,
    /// The remainder of each pair.
    pub rows: Vec<ClosureRow>,
    /// Probability of this much by measurement alone; `None` if two pairs leave no remainder.
    pub p: Option<f64>,
    /// Whether they contradict each other.
    pub contradicts: bool,
    /// What to say about them.
    pub words: String,
}

/// The remainder of a pair of distances once yaw and offset are removed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClosureRow {
    /// The distance to the left mark.
    pub left: String,
    /// The distance to the right mark.
    pub right: String,
    /// The part of left less right that neither yaw nor offset explains, mm.
    pub left_over_mm: f64,
}

/// How the log of a taken-up wing was found.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub enum WingFound {
    /// It was not looked for.
    #[default]
    NotLookedFor,
    /// There is no file of its name.
    NotAtHand,
    /// Whether it is there, and what is in it, cannot be found out.
    Unread {
        /// Why; a sentence in JSON.
        #[serde(serialize_with = "as_said")]
        why: Because,
    },
    /// It is whole and unchanged since it was taken up.
    AsTakenUp,
    /// It is whole and has more entries since.
    GoneOn {
        /// Entries since it was taken up.
        entries: u64,
        /// Those that bear on its decision: no notes, no sign-offs, and none after a stage beyond the closing has begun.
        bearing: u64,
    },
    /// It is not the log that was taken up, or is not whole.
    Changed {
        /// What is wrong with it; a sentence in JSON.
        #[serde(serialize_with = "as_said")]
        why: WingChanged,
    },
}

/// Why a log is not the one that was taken up.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum WingChanged {
    #[error(transparent)]
    Broken(Broken),
    #[error("its entry {0} is different")]
    Entry(u64),
}

/// A wing of the aeroplane that was built in a jig, and what its log said when it was taken up.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WingView {
    pub name: String,
    pub side: Side,
    /// The result: `met` if its log was taken up, cleared and signed for this wing.
    #[serde(serialize_with = "of_obligation")]
    pub state: Verdict,
    /// The same for a person.
    pub words: String,
    /// What would settle it.
    pub settles: Option<String>,
    /// What was taken up; `None` if nothing was.
    pub taken: Option<TakenView>,
    /// How its log was found.
    pub found: WingFound,
    /// True where the log that was taken up is not of this wing.
    #[serde(skip)]
    pub another: bool,
    /// The twist since the jig, station by station, for stations measured on both.
    pub changes: Vec<JigChange>,
}

/// What was taken up of a wing's log.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TakenView {
    #[serde(flatten)]
    pub on: EntryView,
    /// The path of the wing's log, relative to the folder of this one.
    pub log: String,
    /// What the wing's own plan calls it.
    pub wing: String,
    /// Its serial number.
    pub serial: Option<String>,
    pub drawing: Option<String>,
    /// The drawing's issue.
    pub issue: Option<String>,
    /// SHA-256 of its plan, in hexadecimal.
    pub plan_sha256: String,
    /// How many entries its log had.
    pub entries: u64,
    /// The hash of the last of them, in hexadecimal.
    pub head: String,
    /// Its closing gate, as decided or as it was then.
    pub gate: GateState,
    /// The last entry that its decision depends on; `None` if no stage after its closing one had begun.
    pub decided: Option<u64>,
    /// Its sign-offs.
    pub signed: Vec<WingSigned>,
    /// The stage of its last profile.
    pub stage: Option<String>,
    /// Its last profile.
    pub stations: Vec<JigStation>,
}

/// The twist at a station, last in the jig and now; both from the wing's first station.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct JigChange {
    /// The station, by its name in the wing's plan.
    pub station: String,
    /// The station from which the twist counts.
    pub from: String,
    /// Where along the span, mm.
    pub span_mm: f64,
    /// Last in the jig, degrees.
    pub jig_deg: f64,
    /// On the aeroplane, degrees.
    pub now_deg: f64,
    /// Now less then.
    pub change: Judged,
    /// Two-sided probability of this much by measurement alone.
    pub p: f64,
    /// Whether it is more than measurement, allowing for the number of stations.
    pub real: bool,
}
