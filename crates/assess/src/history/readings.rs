//! The readings of a point that count, and whether something disturbed them.

use record::{At, Instrument, Move, Point, Reading};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A reading in use.
#[derive(Clone, Debug, PartialEq)]
pub struct Used {
    /// Entry number.
    pub seq: u64,
    /// When it was taken.
    pub at: At,
    /// By whom.
    pub by: String,
    /// The reading.
    pub reading: Reading,
    /// What was known of its instrument when it was taken; none where nothing was.
    pub facts: Option<Arc<Instrument>>,
}

/// The readings of one point that count, those of its last round, and whether they were disturbed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Freshness {
    /// The readings of the last round in which the point was measured; of a torque, the last reading.
    pub used: Vec<Used>,
    /// Those of its earlier rounds in the same stage, oldest first, if nothing was disturbed between.
    pub earlier: Vec<Vec<Used>>,
    /// Why they are stale, if they are.
    pub stale: Option<String>,
    /// Rounds in which the point was measured in the present stage since it was last disturbed.
    pub rounds: usize,
}

impl Freshness {
    /// True where it counts and its last reading was taken after that entry.
    #[must_use]
    pub fn taken_since(&self, entry: u64) -> bool {
        self.counts() && self.used.last().is_some_and(|used| used.seq > entry)
    }

    /// True where there is a reading that nothing disturbed.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.stale.is_none() && !self.used.is_empty()
    }
}

/// Readings of the twist profile as they were when something disturbed them.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// The stage they belong to.
    pub stage: String,
    /// Number of the entry that disturbed them.
    pub ended_by: u64,
    /// The move that did, if it was one; otherwise a stage began.
    pub by_move: Option<Move>,
    /// The readings, point by point.
    pub points: BTreeMap<Point, Freshness>,
}
