//! The readings of a point that count, and whether something disturbed them.

use record::{At, Instrument, Move, Point, Reading};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Rounds of a point before its last that can count.
pub const EARLIER: usize = 20;

/// Readings of a point one way round in one round that can count, the last ones.
pub const SEATINGS: usize = 200;

/// A reading in use.
#[derive(Clone, Debug, PartialEq)]
pub struct Used {
    /// Entry number.
    pub seq: u64,
    /// When it was taken.
    pub at: At,
    /// By whom.
    pub by: String,
    pub reading: Arc<Reading>,
    /// What was known of its instrument when it was taken; none where nothing was.
    pub facts: Option<Arc<Instrument>>,
}

/// The readings of one point that count, those of its last round, and whether they were disturbed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Freshness {
    /// The readings of the last round in which the point was measured; of a torque, the last reading.
    pub used: Vec<Used>,
    /// Those of its earlier rounds in the same stage, the last twenty, oldest first, if nothing was disturbed between.
    pub earlier: Vec<Vec<Used>>,
    /// Of the fuselage's tilt: all its earlier rounds in whatever stage, the last twenty, oldest first.
    pub former: Vec<Vec<Used>>,
    /// True where the last round has more readings than can count.
    pub more: bool,
    /// Why they are stale, if they are.
    pub stale: Option<String>,
    /// Rounds in which the point was measured in the present stage since it was last disturbed; 21 where there were more.
    pub rounds: usize,
}

impl Freshness {
    /// One more reading of the last round.
    pub(super) fn push(&mut self, used: Used) {
        let alike = |u: &Used| u.reading.facing == used.reading.facing;
        if self.used.len() >= SEATINGS && self.used.iter().filter(|u| alike(u)).count() >= SEATINGS {
            self.more = true;
            if let Some(first) = self.used.iter().position(alike) {
                self.used.remove(first);
            }
        }
        if self.used.is_empty() {
            // A reversal pair is the most that most points have.
            self.used.reserve_exact(2);
        }
        self.used.push(used);
    }

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
