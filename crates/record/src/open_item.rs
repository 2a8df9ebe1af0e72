//! Things left open on purpose.

use serde::{Deserialize, Serialize};

/// What was done about a thing left open.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum OpenAction {
    /// It was left open.
    Opened,
    /// It was closed.
    Closed,
    /// It was carried past the gate on purpose.
    Carried,
}

/// A thing left open on purpose, and what was done about it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenItem {
    /// The thing, in words; a stage's own list uses the same words.
    pub item: String,
    /// What was done.
    pub action: OpenAction,
    /// Why, or by what.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
}
