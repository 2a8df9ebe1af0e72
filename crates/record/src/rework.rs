//! Work on one thing.

use crate::Point;
use serde::{Deserialize, Serialize};

/// Work on one thing (a bolt tightened again, a bush reamed, a rib drilled off): its readings are stale, and so are those
/// that the plan's `[[rework]]` rules hang on it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Rework {
    /// The points worked on, in the plan's order.
    pub points: Vec<Point>,
    /// What was done, in words.
    pub what: String,
}
