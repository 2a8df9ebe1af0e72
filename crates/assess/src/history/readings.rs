//! The readings of a point that count, and whether something disturbed them.

use record::{At, Instrument, Move, Point, Reading};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The most readings of a point one way in one round that can count; the last ones do.
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
    /// What was known about its instrument when it was taken; `None` if nothing.
    pub facts: Option<Arc<Instrument>>,
}

/// The readings of one point that count, from its last round, and whether they were disturbed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Freshness {
    /// The readings of the last round in which the point was measured; for a torque, the last reading.
    pub used: Vec<Used>,
    /// The readings of its earlier rounds in the same stage: the last twenty, oldest first, if nothing was disturbed
    /// between.
    pub earlier: Vec<Vec<Used>>,
    /// For the fuselage's tilt: all its earlier rounds in any stage, the last twenty, oldest first.
    pub former: Vec<Vec<Used>>,
    /// Whether the last round has more readings than can count.
    pub more: bool,
    /// Why they are stale, if they are.
    pub stale: Option<String>,
    /// Rounds in which the point was measured in the present stage since it was last disturbed; 21 if there were
    /// more.
    pub rounds: usize,
}

impl Freshness {
    /// Adds a reading to the last round.
    pub(super) fn push(&mut self, used: Used) {
        let alike = |u: &Used| u.reading.facing == used.reading.facing;
        if self.used.len() >= SEATINGS && self.used.iter().filter(|u| alike(u)).count() >= SEATINGS {
            self.more = true;
            if let Some(first) = self.used.iter().position(alike) {
                self.used.remove(first);
            }
        }
        if self.used.is_empty() {
            // Most points have at most a reversal pair.
            self.used.reserve_exact(2);
        }
        self.used.push(used);
    }

    /// Whether it counts and its last reading came after that entry.
    pub fn taken_since(&self, entry: u64) -> bool {
        self.counts() && self.used.last().is_some_and(|used| used.seq > entry)
    }

    /// Whether it has an undisturbed reading.
    pub fn counts(&self) -> bool {
        self.stale.is_none() && !self.used.is_empty()
    }
}

/// Readings of the twist profile at the moment something disturbed them.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// The stage they belong to.
    pub stage: String,
    /// Number of the entry that disturbed them.
    pub ended_by: u64,
    /// The move that did, if it was a move; otherwise a stage began.
    pub by_move: Option<Move>,
    /// The readings, point by point.
    pub points: BTreeMap<Point, Freshness>,
}
