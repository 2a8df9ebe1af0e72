//! The result for an obligation.

use crate::view::{JudgedBy, Verdict};

/// The result for an obligation.
#[derive(Clone, Debug, PartialEq)]
pub struct Discharge {
    /// The entries examined.
    pub entries: Vec<u64>,
    pub answer: Answer,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// With what was found, for a person.
    Met(String),
    Unmet(Unmet),
}

impl Discharge {
    pub fn met(entries: Vec<u64>, words: impl Into<String>) -> Self {
        Self { entries, answer: Answer::Met(words.into()) }
    }

    pub fn unmet(
        state: Shortfall,
        words: String,
        entries: Vec<u64>,
        cause: Cause,
        settles: impl Into<Option<String>>,
    ) -> Self {
        Self { entries, answer: Answer::Unmet(Unmet { state, words, cause, settles: settles.into() }) }
    }
}

/// Why an obligation is not met.
#[derive(Clone, Debug, PartialEq)]
pub struct Unmet {
    /// In what way.
    pub state: Shortfall,
    /// What was found, for a person.
    pub words: String,
    /// Obligations unmet for the same reason share the cause.
    pub cause: Cause,
    /// What would settle it, if the program knows.
    pub settles: Option<String>,
}

/// In what way an obligation is not met: any verdict but within.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Shortfall(Verdict);

impl Shortfall {
    pub const MISSING: Self = Self(Verdict::Missing);
    pub const STALE: Self = Self(Verdict::Stale);
    pub const DOUBTFUL: Self = Self(Verdict::Doubtful);
    pub const CANNOT_JUDGE: Self = Self(Verdict::CannotJudge);
    pub const OUTSIDE: Self = Self(Verdict::Outside);

    /// For a verdict; `None` if it is within.
    pub fn of(verdict: Verdict) -> Option<Self> {
        (verdict != Verdict::Within).then_some(Self(verdict))
    }

    pub const fn verdict(self) -> Verdict {
        self.0
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
