//! What was not done because the wing is not ready for it: a sign-off, the next stage.

use crate::shown;
use assess::Broken;
use assess::view::{Gate, Verdict};
use std::fmt;

#[derive(Clone, Debug, thiserror::Error)]
pub enum NotSigned {
    /// The gate holds, and it was not to be signed as seen.
    #[error(
        "the gate holds, so this cannot be signed as clear. `jigtrue check` lists the reasons; to sign that you have seen it as it \
         stands, add --as-seen"
    )]
    Holds(Box<Gate>),
    /// The chain is broken: there is nothing that a signature could be of.
    #[error("{0}; nothing is signed")]
    Broken(#[source] Broken),
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unmet {
    pub name: String,
    /// The stages that would be passed over.
    pub passed: Vec<String>,
    /// What is not met, in words, worst first.
    pub unmet: Vec<String>,
    /// The verdict that these come to.
    pub verdict: Verdict,
}

/// The most of what is not met that is told.
const TOLD: usize = 6;

impl fmt::Display for Unmet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "stage `{}` is not begun", shown(&self.name))?;
        if !self.passed.is_empty() {
            write!(f, "; it would pass over {}", shown(&self.passed.join(", ")))?;
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
