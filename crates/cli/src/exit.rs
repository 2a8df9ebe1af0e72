//! How a run ends.

use assess::view::{Gate, Verdict};
use record::GateState;
use std::process::ExitCode;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Exit {
    Done = 0,
    /// It could not be done; the message says what, where, and what to do.
    Failed = 1,
    /// The command line could not be understood.
    Usage = 2,
    /// Something judged is outside.
    Outside = 10,
    /// Something judged is undecided, missing, stale, doubtful or cannot be judged, and nothing is outside.
    Open = 11,
}

impl Exit {
    pub const fn code(self) -> u8 {
        self as u8
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
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}
