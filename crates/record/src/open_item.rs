//! Things left open on purpose.

use serde::{Deserialize, Serialize};

/// What was done about an open item.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum OpenAction {
    /// It was opened.
    Opened,
    /// It was closed.
    Closed,
    /// It was carried past the gate on purpose.
    Carried,
}

/// Something left open on purpose, and what was done about it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OpenItem {
    /// The item, as text; a stage's own list uses the same text.
    pub item: String,
    /// What was done.
    pub action: OpenAction,
    /// The reason, or what closed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
}
