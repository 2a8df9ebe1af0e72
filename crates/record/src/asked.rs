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
