//! What the bench asks before it writes.

use crate::{Measured, Shown};

/// A question that is open. Until it is answered nothing is written.
#[derive(Clone, Debug, PartialEq)]
pub enum Question {
    /// A move was measured as it was told: record it? Yes, no, or it was another screw.
    Record {
        /// What was measured of the foot that was to be turned.
        measured: Measured,
        /// What it would be of each other foot.
        others: Vec<Measured>,
    },
    /// What moved is not what was told: which screw was it? One of these, or none.
    Which {
        /// What it would be of each foot that can explain it.
        candidates: Vec<Measured>,
    },
    /// The signal was lost in the middle of a move: was the level touched meanwhile?
    Touched {
        /// The start that is kept.
        start: Shown,
    },
    /// The value does not agree with a reading it would be averaged with: was something moved? Yes records a move, no begins
    /// a new round.
    Moved {
        /// The entry of that reading.
        seq: u64,
        /// By how much, in the unit used inside.
        by: f64,
        /// What it would be of each foot, where it is a tilt of a post.
        candidates: Vec<Measured>,
    },
    /// The value is not what the point should show: is it meant?
    Implausible {
        /// The value as shown.
        shown: Shown,
        /// About what was expected, as it would be shown.
        expected: f64,
        /// Why it is asked, in words.
        why: String,
    },
}
