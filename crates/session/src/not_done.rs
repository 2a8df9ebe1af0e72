//! What was not done because the wing is not ready: a sign-off, the next stage.

use crate::shown;
use assess::Broken;
use assess::view::{Gate, Verdict};
use std::fmt;

#[derive(Clone, Debug, thiserror::Error)]
pub enum NotSigned {
    /// The gate holds, and signing as seen was not requested.
    #[error(
        "the gate holds, so this cannot be signed as clear. `jigtrue check` lists the reasons; to sign that \
            you have seen it as it is, add --as-seen"
    )]
    Holds(Box<Gate>),
    /// The chain is broken, so there is nothing to sign.
    #[error("{0}; nothing is signed")]
    Broken(#[source] Broken),
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unmet {
    pub name: String,
    /// The stages that would be skipped.
    pub passed: Vec<String>,
    /// What is not met, as text, worst first.
    pub unmet: Vec<String>,
    /// The overall verdict.
    pub verdict: Verdict,
}

/// At most this many unmet things are listed.
const TOLD: usize = 6;

impl fmt::Display for Unmet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "stage `{}` is not begun", shown(&self.name))?;
        if !self.passed.is_empty() {
            write!(f, "; it would skip {}", shown(&self.passed.join(", ")))?;
        }
        for words in self.unmet.iter().take(TOLD) {
            write!(f, "\n  {}", shown(words))?;
        }
        match self.unmet.len().saturating_sub(TOLD) {
            0 => Ok(()),
            more => write!(f, "\n  and {more} more"),
        }
    }
}
