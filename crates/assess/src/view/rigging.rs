//! The rigged aeroplane.

use super::unjudged::as_said;
use super::{EntryView, Judged, ObligationState};
use crate::Broken;
use record::plan::Side;
use record::{GateState, JigStation, Point, WingSigned};
use serde::Serialize;

/// One thing of the rigged aeroplane: an angle, a travel, a tension, a torque, a distance, a yaw, a difference.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RigView {
    /// What it is called (`dihedral of left wing`).
    pub name: String,
    /// Its value; judged where the plan has limits for it.
    pub judged: Judged,
    /// The points it rests on.
    pub points: Vec<Point>,
}

/// Left against right of one thing rigged.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RigPair {
    /// What it is, without the side (`dihedral of wing`).
    pub name: String,
    /// The left one; none where it has no value.
    pub left: Option<Judged>,
    /// The right one; none where it has no value.
    pub right: Option<Judged>,
    /// Left less right, without what both share; judged where the plan has a limit for it, none where one of them has no value.
    pub difference: Option<Judged>,
}

/// Distances that close on each other: more of them than yaw and offset need.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RigClosure {
    /// The symmetry they belong to.
    pub name: String,
    /// What is left over of each pair.
    pub rows: Vec<ClosureRow>,
    /// Probability of so much by measurement alone; none where two pairs leave nothing over.
    pub p: Option<f64>,
    /// True where they contradict each other.
    pub contradicts: bool,
    /// What is to be said of them.
    pub words: String,
}

/// What is left over of a pair of distances once yaw and offset are taken out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClosureRow {
    /// The distance to the left mark.
    pub left: String,
    /// The distance to the right mark.
    pub right: String,
    /// Left less right that neither yaw nor offset explains, mm.
    pub left_over_mm: f64,
}

/// How the log of a wing that was taken up was found when it was looked for.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub enum WingFound {
    /// It was not looked for.
    #[default]
    NotLookedFor,
    /// There is no file of its name.
    NotAtHand,
    /// It is whole and as it was taken up.
    AsTakenUp,
    /// It is whole and has gone on since.
    GoneOn {
        /// Entries since it was taken up.
        entries: u64,
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
    #[error("its entry {0} is another")]
    Entry(u64),
}

/// A wing of the aeroplane that was built in a jig, and what its log said when it was taken up.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WingView {
    pub name: String,
    pub side: Side,
    /// What is known of it: `met` where its log was taken up, cleared and signed for this wing.
    pub state: ObligationState,
    /// The same for a person.
    pub words: String,
    /// What would settle it.
    pub settles: Option<String>,
    /// What was taken up; none where nothing was.
    pub taken: Option<TakenView>,
    /// How its log was found.
    pub found: WingFound,
    /// The twist since the jig, station by station; none measured on both is left out.
    pub changes: Vec<JigChange>,
}

/// What was taken up of a wing's log.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TakenView {
    #[serde(flatten)]
    pub on: EntryView,
    /// The file of the wing's log, as seen from the folder of this one.
    pub log: String,
    /// What the wing's own plan calls it.
    pub wing: String,
    /// Its serial number.
    pub serial: Option<String>,
    pub drawing: Option<String>,
    /// The drawing's issue.
    pub issue: Option<String>,
    /// SHA-256 of its plan, hexadecimal.
    pub plan_sha256: String,
    /// How many entries its log had.
    pub entries: u64,
    /// The hash of the last of them, hexadecimal.
    pub head: String,
    /// Its closing gate, as decided or as it was then.
    pub gate: GateState,
    /// The last entry that its decision rests on; none where no stage after its closing one had begun.
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
    /// The station that the twist counts from.
    pub from: String,
    /// Where along the span, mm.
    pub span_mm: f64,
    /// Last in the jig, degrees.
    pub jig_deg: f64,
    /// On the aeroplane, degrees.
    pub now_deg: f64,
    /// Now less then.
    pub change: Judged,
    /// Two-sided probability of so much by measurement alone.
    pub p: f64,
    /// True if it is more than measurement, the number of stations taken into account.
    pub real: bool,
}
