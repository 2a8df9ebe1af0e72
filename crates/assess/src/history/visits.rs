//! The stages begun, in order.

use super::{Freshness, Said};
use record::{Point, StageBegun};
use std::collections::{BTreeMap, BTreeSet};

/// A stage that was begun.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    pub begun: Said<StageBegun>,
    /// Its position in the plan; `None` if the plan no longer has it.
    pub index: Option<usize>,
    /// The points that had a counting reading when it ended; empty until then.
    pub counted: BTreeSet<Point>,
    /// The readings taken in it that counted when it ended; empty until then.
    pub left: BTreeMap<Point, Freshness>,
    /// What was found before something was moved or worked on within it, oldest first.
    pub before: Vec<Before>,
    /// The entry that ended it; `None` until then.
    pub ended: Option<u64>,
}

/// What a stage had found before something was moved or worked on.
#[derive(Clone, Debug, PartialEq)]
pub struct Before {
    /// The entry of the move or rework.
    pub seq: u64,
    /// The readings of the stage that counted until then and are judged together with what was disturbed.
    pub points: BTreeMap<Point, Freshness>,
}
