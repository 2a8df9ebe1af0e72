//! The beginning of a stage.

use serde::{Deserialize, Serialize};

/// A stage of the build began.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct StageBegun {
    /// Its name in the plan.
    pub name: String,
    /// The stages skipped on the way to it, in plan order; what they require is still owed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub passed: Vec<String>,
    /// What was not met when it began, in the words of the obligations.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub unmet: Vec<String>,
    /// Why the build went on anyway.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
}

impl StageBegun {
    /// A stage begun in order, with nothing unmet.
    #[must_use]
    pub fn new(name: &str) -> Self {
        Self { name: name.to_owned(), ..Self::default() }
    }
}
