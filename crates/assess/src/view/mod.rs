//! The assessment as a value: everything a terminal, a window or a sheet shows comes from here.
//!
//! Field names are a contract (`"format": 1` of the JSON): fields may be added, never renamed or dropped. A name that
//! ends in `_deg`, `_mm` or `_turns` is a number in that unit; `value`, `u` and limits without a suffix are in the
//! `unit` beside them.

mod change;
mod comparison;
mod gate;
mod geometry;
mod judged;
mod judged_by;
mod mark;
mod no_value;
mod obligation;
mod point;
mod rigging;
mod shown;
mod story;
mod trust;
mod twist;
mod unjudged;
mod verdict;
mod walk;

pub use crate::parts::RigFault;
pub use change::{Change, Changes, PartChange};
pub use comparison::{Comparison, ComparisonKind, ComparisonOther, ComparisonRow};
pub use gate::{Gate, Reason, ReasonKind};
pub use geometry::{
    BayView, BoreLine, BushView, FootTurns, OffsetView, PlaceValue, PostView, RowStep, RowTrend, RowView,
    Shift, SpacingView, SparView, StraightnessMethod, Tilt,
};
pub(crate) use judged::base_unit;
pub use judged::{Finding, Judged, NotJudged};
pub use judged_by::JudgedBy;
pub use mark::{MarkShape, Tone};
pub use no_value::NoValue;
pub use obligation::{Obligation, ObligationKind};
pub use point::{PointState, PointView};
pub use rigging::{
    ClosureRow, JigChange, RigClosure, RigPair, RigView, TakenView, WingChanged, WingFound, WingView,
};
pub use story::{DecisionView, EntryView, Remark, ShownReading, StageFinding, Told};
pub use trust::{
    Doubt, DoubtKind, InstrumentView, MoveView, OpenItemView, SignView, StageView, WithdrawnView, ZeroView,
};
pub use twist::{
    BandPoint, IncidenceFrom, PreviousStation, PreviousTwist, StationView, StepView, Twist, TwistTest,
    TwistTestKind, ValueU,
};
pub(crate) use unjudged::as_said;
pub use unjudged::{NoJudgement, Unjudged};
pub use verdict::Verdict;
pub(crate) use verdict::of_obligation;

use crate::history::PlanChange;
use record::plan::{Acceptance, Attitude, Identity, Side};
use record::{InstrumentCheck, Point, Rework};
use serde::Serialize;

/// The whole judgement of one wing at one stage.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Assessment {
    /// Version of this form: 1.
    pub format: u32,
    /// The wing's name.
    pub wing: String,
    pub side: Side,
    /// Which wing it is, for the papers; what the plan does not say is `null`.
    pub identity: Identity,
    /// How it stands in the jig.
    pub attitude: Attitude,
    /// The stage judged; `None` before the first stage began.
    pub stage: Option<String>,
    /// Its number among the plan's stages from 1, and how many there are.
    pub stage_number: Option<StageNumber>,
    /// How verdicts were reached.
    pub rule: RuleView,
    /// The units in which values are shown to a person.
    #[serde(skip)]
    pub units: quantity::Units,
    /// Number of entries taken into account.
    pub entries: u64,
    /// When the last of them was written, ISO 8601 UTC.
    pub last_entry_at: Option<String>,
    /// The same, as its writer's clock showed it: `2031-06-09 16:20 +02:00`.
    pub last_entry_when: Option<String>,
    /// The entry that started the log.
    pub started: Option<EntryView>,
    /// The decision to close, once a stage after the closing one has begun; `gate` is then as it was decided.
    pub decision: Option<DecisionView>,
    /// May the skins go on?
    pub gate: Gate,
    /// The stages after the closing one, once one of them has begun. Their obligations never reopen the decision.
    pub after: Option<Gate>,
    /// The stage alone: the worst verdict of what it requires (the gate asks for more).
    pub stage_verdict: Option<Verdict>,
    /// The twist profile; absent with fewer than two usable stations.
    pub twist: Option<Twist>,
    /// Every point of the plan, in work order.
    pub points: Vec<PointView>,
    /// What changed since the previous stage that has a profile.
    pub changes: Option<Changes>,
    /// The profile of the previous stage, to draw behind this one.
    pub previous: Option<PreviousTwist>,
    /// Straightness of each spar with offsets or a level walk.
    pub spars: Vec<SparView>,
    /// Level of each post.
    pub posts: Vec<PostView>,
    /// Squareness of each bay.
    pub bays: Vec<BayView>,
    /// Distances of stations from the root datum.
    pub spacing: Vec<SpacingView>,
    /// The shaft in its bushes.
    pub bore_line: Option<BoreLine>,
    /// Rows of spot checks.
    pub rows: Vec<RowView>,
    /// The rigged aeroplane, in the order of work.
    pub rigging: Vec<RigView>,
    /// The same by pairs, left against right.
    pub rig_pairs: Vec<RigPair>,
    /// Distances that check each other.
    pub rig_closures: Vec<RigClosure>,
    /// Wings built in a jig, and what their logs said when they were taken up.
    pub wings: Vec<WingView>,
    /// What was measured but cannot be judged, with the reason.
    pub unjudged: Vec<Unjudged>,
    /// Points still wanted at this stage, in walking order.
    pub wanted: Vec<Point>,
    /// Things left open.
    pub open_items: Vec<OpenItemView>,
    /// Instruments used, with their check dates.
    pub instruments: Vec<InstrumentView>,
    /// Zeros found by reversal, for each round.
    pub zeros: Vec<ZeroView>,
    /// What the plan changed, key by key, oldest first.
    pub plan_changes: Vec<PlanChange>,
    /// Replacements of the plan with their reasons, oldest first.
    pub replans: Vec<Told<Remark>>,
    /// Remarks, oldest first.
    pub notes: Vec<Told<Remark>>,
    /// The stages begun, oldest first.
    pub stages: Vec<StageView>,
    /// Checks of instruments, oldest first.
    pub checks: Vec<Told<InstrumentCheck>>,
    /// Reworks, oldest first.
    pub reworks: Vec<Told<Rework>>,
    /// Moves made.
    pub moves: Vec<Told<MoveView>>,
    /// Entries withdrawn, with reasons.
    pub withdrawn: Vec<WithdrawnView>,
    /// Sign-offs.
    pub signatures: Vec<SignView>,
    /// What an inspector would distrust.
    pub doubts: Vec<Doubt>,
}

impl Assessment {
    /// What a person who signs now signs: the gate, or, after the decision to close, that decision by what is known now.
    pub fn to_sign(&self) -> &Gate {
        self.decision.as_ref().map_or(&self.gate, |decision| &decision.by_now)
    }
}

/// The number of a stage among the plan's stages.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct StageNumber {
    /// Counted from 1.
    pub number: usize,
    /// How many stages there are.
    pub of: usize,
}

/// How verdicts were reached.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RuleView {
    /// Guarded or simple.
    pub acceptance: Acceptance,
    /// Required probability of conformity.
    pub level: f64,
    /// The rule in words.
    pub words: String,
}
