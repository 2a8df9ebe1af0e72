//! A question that was answered with yes.

use serde::{Deserialize, Serialize};

/// Why a value was asked about. The value was kept because the person gave it again on purpose.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Asked {
    /// What was expected (`about +1.3°`).
    pub expected: String,
    /// Why the value was asked about, in words.
    pub why: String,
}

impl Asked {
    /// One answer for two things that were odd of one value.
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
