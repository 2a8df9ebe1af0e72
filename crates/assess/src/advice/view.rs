//! The advice as a value, for terminal, window and sheet.
//!
//! Field names are a contract (`"format": 1` of the JSON): fields may be added, none is renamed or dropped. A name that
//! ends in `_deg`, `_mm` or `_turns` is a number in that unit; a ratio is a deviation over its tolerance, 1 at the limit.

use super::finding::Finding;
use serde::Serialize;

/// What is advised.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum AdviceState {
    /// Something is to be moved: `steps`, or the moves of a finding.
    Move,
    /// Nothing is to be moved, and something is to be mended: the findings say what.
    Mend,
    /// Nothing is out and nothing is undecided: leave it alone.
    Leave,
    /// Not enough is known; the findings say what to measure.
    Measure,
    /// Something is out, and no move that the plan allows brings it inside. `reasons` say what would; `steps` hold the
    /// nearest that can be had, if it is worth making.
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
    /// Half width of the 95 % interval of what is needed, in mm.
    pub give_or_take_mm: f64,
    /// Turns of its screw, clockwise positive; none for shims.
    pub turns: Option<f64>,
    /// Half width of the 95 % interval in turns; none for shims.
    pub give_or_take_turns: Option<f64>,
    /// Shims to put in (amount positive) or take out (negative), thickest first; none for a screw.
    pub shims_mm: Option<Vec<f64>>,
    /// The station where this move does most: there a level shows it while the screw is turned.
    pub watch_at: Option<String>,
    /// By how much the incidence there should change, in degrees.
    pub watch_deg: Option<f64>,
    /// The sentence for a hand (`root front: 3/8 turn clockwise, raises 0.47 mm`).
    pub words: String,
}

/// A value now and as it should be after the moves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Expected {
    pub now_deg: f64,
    /// After the moves.
    pub expected_deg: f64,
    /// Lower end of the 95 % interval after the moves: measurement, hand and what is not known of the wing's stiffness.
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
    /// What it does over what geometry says: 1 where geometry is right.
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
    pub words: String,
    /// Everything that is out or not decided, worst first, each with what mends it.
    pub findings: Vec<Finding>,
    /// The moves of supports, in the order to make them.
    pub steps: Vec<Step>,
    /// The setting, where there is a profile.
    pub setting: Option<Expected>,
    /// The washout error, where there is one.
    pub washout: Option<Expected>,
    /// The twist error at every station, where there is a profile.
    pub profile: Vec<ExpectedStation>,
    /// Largest deviation over its tolerance now; none where nothing has a tolerance.
    pub worst_now: Option<f64>,
    /// What that is about (`S4`, `setting`).
    pub worst_at: Option<String>,
    /// Largest deviation over its tolerance that should be left.
    pub worst_expected: Option<f64>,
    /// What earlier moves taught.
    pub learned: Vec<LearnedView>,
    /// What to mind while moving supports under a wing; empty without steps.
    pub cautions: Vec<String>,
    /// Why this is advised, and what else would help.
    pub reasons: Vec<String>,
}
