//! The advice as a value, for terminal, window and sheet.
//!
//! Field names are a contract (`"format": 1` of the JSON): fields may be added, never renamed or dropped. A name that
//! ends in `_deg`, `_mm` or `_turns` is a number in that unit; a ratio is a deviation over its tolerance, 1 at the
//! limit.

use super::finding::Finding;
use super::summary::Summary;
use serde::Serialize;

/// What is advised.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum AdviceState {
    /// Move something: `steps`, or the moves of a finding.
    Move,
    /// Move nothing, but mend something: the findings say what.
    Mend,
    /// Nothing is outside or undecided: leave it alone.
    Leave,
    /// Too little is known; the findings say what to measure.
    Measure,
    /// Something is outside, and no move that the plan allows brings it within. `reasons` say what would help;
    /// `steps` hold the nearest possible, if worth making.
    Cannot,
}

/// A move to make.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Step {
    pub support: String,
    /// The spar it carries.
    pub spar: String,
    /// How far, positive in the support's direction (up or aft).
    pub amount_mm: f64,
    /// Half width of the 95 % interval of the amount needed, in mm.
    pub give_or_take_mm: f64,
    /// Turns of its screw, clockwise positive; `None` for shims.
    pub turns: Option<f64>,
    /// Half width of the 95 % interval in turns; `None` for shims.
    pub give_or_take_turns: Option<f64>,
    /// Shims to put in (amount positive) or take out (negative), thickest first; `None` for a screw.
    pub shims_mm: Option<Vec<f64>>,
    /// The station where this move does most: a level there shows it while the screw is turned.
    pub watch_at: Option<String>,
    /// How much the incidence there should change, in degrees.
    pub watch_deg: Option<f64>,
    /// The instruction (`root front: 3/8 turn clockwise, raises 0.47 mm`).
    pub words: String,
}

/// A value now and as it should be after the moves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Expected {
    pub now_deg: f64,
    /// After the moves.
    pub expected_deg: f64,
    /// Lower end of the 95 % interval after the moves: from the measurement, the hand, and the wing's uncertain
    /// stiffness.
    pub lower_deg: f64,
    /// Upper end.
    pub upper_deg: f64,
}

/// Twist error at a station, now and after the moves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ExpectedStation {
    /// The station.
    pub name: String,
    pub span_mm: f64,
    #[serde(flatten)]
    pub twist_error: Expected,
}

/// What earlier moves taught about a support.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LearnedView {
    pub support: String,
    /// Its effect divided by the geometric effect: 1 if geometry is right.
    pub factor: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// The sentence (`tip rear moves the twist 0.8 of what geometry says`).
    pub words: String,
}

/// What to move, or why not.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Advice {
    /// Version of this form: 1.
    pub format: u32,
    /// What is advised.
    pub state: AdviceState,
    /// The sentence that sums it up.
    pub words: Summary,
    /// Everything outside or undecided, worst first, each with its remedy.
    pub findings: Vec<Finding>,
    /// The moves of supports, in the order to make them.
    pub steps: Vec<Step>,
    /// The setting, if there is a profile.
    pub setting: Option<Expected>,
    /// The washout error, if there is one.
    pub washout: Option<Expected>,
    /// The twist error at every station, if there is a profile.
    pub profile: Vec<ExpectedStation>,
    /// Largest deviation over its tolerance now; `None` if nothing has a tolerance.
    pub worst_now: Option<f64>,
    /// The value with that ratio (`S4`, `setting`).
    pub worst_at: Option<String>,
    /// Largest deviation over its tolerance that is expected to remain.
    pub worst_expected: Option<f64>,
    /// What earlier moves taught.
    pub learned: Vec<LearnedView>,
    /// What to watch for while moving supports under a wing; empty without steps.
    pub cautions: Vec<String>,
    /// The reasons for this advice, and what else would help.
    pub reasons: Vec<String>,
}
