//! Work on one thing.

use crate::Point;
use serde::{Deserialize, Serialize};

/// Work on one thing (a bolt tightened again, a bush reamed, a rib drilled off). Its readings become stale, and so do
/// those that the plan's `[[rework]]` rules add.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Rework {
    /// The points worked on, in the plan's order.
    pub points: Vec<Point>,
    /// What was done.
    pub what: String,
}
