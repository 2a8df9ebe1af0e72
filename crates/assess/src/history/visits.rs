//! The stages that were begun, in the order in which they were.

use super::Freshness;
use record::{At, Point};
use std::collections::{BTreeMap, BTreeSet};

/// A stage that was begun.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// The entry that began it.
    pub seq: u64,
    /// When.
    pub at: At,
    /// By whom.
    pub by: String,
    /// Its name.
    pub name: String,
    /// Its place in the plan; none if the plan has no such stage any more.
    pub index: Option<usize>,
    /// The stages that were passed over on the way to it, on purpose.
    pub passed: Vec<String>,
    /// What was not met when it began, as it was written then.
    pub unmet: Vec<String>,
    /// Why the build went on in spite of that.
    pub reason: Option<String>,
    /// The points that had a counting reading when it ended; empty while it lasts.
    pub counted: BTreeSet<Point>,
    /// The readings taken in it that counted when it ended; empty while it lasts.
    pub left: BTreeMap<Point, Freshness>,
    /// What was found before something was moved or worked on within it, oldest first.
    pub before: Vec<Before>,
    /// The entry that ended it; none while it lasts.
    pub ended: Option<u64>,
}

/// What a stage had found before something was moved or worked on.
#[derive(Clone, Debug, PartialEq)]
pub struct Before {
    /// The entry of the move or rework.
    pub seq: u64,
    /// The readings of the stage that counted until then, those judged together with what was disturbed.
    pub points: BTreeMap<Point, Freshness>,
}
