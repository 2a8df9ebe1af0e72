//! The stages that were begun, in the order in which they were.

use super::{Freshness, Said};
use record::{Point, StageBegun};
use std::collections::{BTreeMap, BTreeSet};

/// A stage that was begun.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    pub begun: Said<StageBegun>,
    /// Its place in the plan; none if the plan has no such stage any more.
    pub index: Option<usize>,
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
