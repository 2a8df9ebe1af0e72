//! How a run ends.

use assess::view::{Gate, Verdict};
use record::GateState;
use std::process::ExitCode;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    Done,
    /// It could not be done; the message says what, where, and what to do.
    Failed,
    /// The command line could not be understood.
    Usage,
    /// Something judged is outside.
    Outside,
    /// Something judged is undecided, missing, stale, doubtful or cannot be judged, and nothing is outside.
    Open,
}

impl Exit {
    pub const fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Failed => 1,
            Self::Usage => 2,
            Self::Outside => 10,
            Self::Open => 11,
        }
    }

    /// For a verdict; without one there is nothing to judge.
    pub const fn of_verdict(verdict: Option<Verdict>) -> Self {
        match verdict {
            None | Some(Verdict::Within) => Self::Done,
            Some(Verdict::Outside) => Self::Outside,
            Some(
                Verdict::Undecided
                | Verdict::Doubtful
                | Verdict::CannotJudge
                | Verdict::Stale
                | Verdict::Missing,
            ) => Self::Open,
        }
    }

    pub fn of_gate(gate: &Gate) -> Self {
        if gate.state == GateState::Clear {
            Self::Done
        } else if gate.obligations.iter().any(|o| o.state == Verdict::Outside) {
            Self::Outside
        } else {
            Self::Open
        }
    }

    /// For several things judged together: the worst.
    pub fn worst(exits: impl IntoIterator<Item = Self>) -> Self {
        exits
            .into_iter()
            .max_by_key(|e| match e {
                Self::Done => 0,
                Self::Open => 1,
                Self::Outside => 2,
                Self::Failed | Self::Usage => 3,
            })
            .unwrap_or(Self::Done)
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}
