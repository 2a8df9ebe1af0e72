//! What was done to a wing, and who says how late it is.

use record::At;

/// What was done, with its entry.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{work} (entry {entry}, {at})")]
pub struct Step {
    pub at: At,
    pub entry: u64,
    pub work: Work,
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Work {
    #[error("the log was begun")]
    Begun,
    #[error("stage `{0}` began")]
    Stage(String),
    /// A support.
    #[error("`{0}` was moved")]
    Moved(String),
    #[error("it was worked on: {0}")]
    Rework(String),
}

impl Work {
    /// Whether it begins a stage, the first one too.
    pub const fn begins(&self) -> bool {
        matches!(self, Self::Begun | Self::Stage(_))
    }
}

/// Who says how late it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clock {
    Here,
    LastEntry,
}

impl Clock {
    pub const fn says(self) -> &'static str {
        match self {
            Self::Here => "the clock here says",
            Self::LastEntry => "the log's last entry was at",
        }
    }
}
