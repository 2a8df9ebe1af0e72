//! A question about a value that the person answered with yes.

use serde::{Deserialize, Serialize};

/// Why a value was questioned. The person confirmed it, so it was recorded.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Asked {
    /// What was expected (`about +1.3°`).
    pub expected: String,
    /// Why the value was questioned.
    pub why: String,
}

impl Asked {
    /// Combines two questions about one value into one answer.
    #[must_use]
    pub fn both(one: Option<Self>, other: Option<Self>) -> Option<Self> {
        match (one, other) {
            (Some(one), Some(other)) => Some(Self {
                expected: format!("{}; {}", one.expected, other.expected),
                why: format!("{}; {}", one.why, other.why),
            }),
            (one, other) => one.or(other),
        }
    }
}
