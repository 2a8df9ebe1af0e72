//! The result for an obligation. There is only one way to be met, and it requires the evidence.

use crate::view::{JudgedBy, ObligationState, ReasonKind, Verdict};

/// What proves an obligation, with the entries behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    pub entries: Vec<u64>,
    /// What was found, for a person.
    pub words: String,
}

/// An obligation that is met.
#[derive(Clone, Debug, PartialEq)]
pub struct Met(Evidence);

impl Met {
    /// The only way to be met.
    pub const fn by(evidence: Evidence) -> Self {
        Self(evidence)
    }

    pub const fn evidence(&self) -> &Evidence {
        &self.0
    }
}

/// Why an obligation is not met.
#[derive(Clone, Debug, PartialEq)]
pub struct Unmet {
    /// In what way.
    pub state: Shortfall,
    /// What was found, for a person.
    pub words: String,
    /// The entries examined.
    pub entries: Vec<u64>,
    /// Obligations unmet for the same reason share the cause.
    pub cause: Cause,
    /// What would settle it, if the program knows.
    pub settles: Option<String>,
}

/// In what way an obligation is not met; the worst last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shortfall {
    Missing,
    Stale,
    Undecided,
    Doubtful,
    CannotJudge,
    Outside,
}

impl Shortfall {
    /// For a verdict; `None` if it is within.
    pub const fn of(verdict: Verdict) -> Option<Self> {
        match verdict {
            Verdict::Within => None,
            Verdict::Missing => Some(Self::Missing),
            Verdict::Stale => Some(Self::Stale),
            Verdict::Undecided => Some(Self::Undecided),
            Verdict::Doubtful => Some(Self::Doubtful),
            Verdict::CannotJudge => Some(Self::CannotJudge),
            Verdict::Outside => Some(Self::Outside),
        }
    }

    /// As shown in views.
    pub const fn state(self) -> ObligationState {
        match self {
            Self::Missing => ObligationState::Missing,
            Self::Stale => ObligationState::Stale,
            Self::Undecided => ObligationState::Undecided,
            Self::Doubtful => ObligationState::Doubtful,
            Self::CannotJudge => ObligationState::CannotJudge,
            Self::Outside => ObligationState::Outside,
        }
    }

    /// The kind of reason it gives.
    pub const fn reason(self) -> ReasonKind {
        match self {
            Self::Missing => ReasonKind::Missing,
            Self::Stale => ReasonKind::Stale,
            Self::Undecided => ReasonKind::Undecided,
            Self::Doubtful => ReasonKind::Doubtful,
            Self::CannotJudge => ReasonKind::CannotJudge,
            Self::Outside => ReasonKind::Outside,
        }
    }
}

/// Why something is unmet. Obligations with the same cause form one line.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// The log itself: its chain, its signatures, its plan.
    Record(&'static str),
    /// A stage that was not begun.
    Stage(String),
    /// Something that puts readings in doubt: its name, and a description.
    Doubt { name: String, words: String },
    /// Something that disturbed readings.
    Disturbed(String),
    /// Readings not taken, and the kind of thing they would judge.
    NotMeasured(&'static str),
    /// The thing itself.
    Own(JudgedBy),
    /// Things left open.
    Open,
}

impl Cause {
    /// The name by which obligations refer to it.
    pub fn name(&self) -> String {
        match self {
            Self::Record(what) => format!("record: {what}"),
            Self::Stage(name) => format!("stage: {name}"),
            Self::Doubt { name, .. } => format!("doubt: {name}"),
            Self::Disturbed(by) => format!("disturbed: {by}"),
            Self::NotMeasured(what) => format!("not measured: {what}"),
            Self::Own(JudgedBy { kind, about }) => format!("{}: {about}", kind.word()),
            Self::Open => "left open".to_owned(),
        }
    }
}

/// The result for an obligation.
#[derive(Clone, Debug, PartialEq)]
pub enum Discharge {
    Met(Met),
    /// It is not met.
    Unmet(Unmet),
}
