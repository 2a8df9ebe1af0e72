//! What the bench asks before it writes.

use crate::{Measured, Shown};
use quantity::{Units, shown};

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
    Touched { start: Shown },
    /// The value does not agree with a reading it would be averaged with: was something moved? Yes records a move, no begins
    /// a new round.
    Moved {
        seq: u64,
        /// By how much, in the base unit.
        by: f64,
        /// What it would be of each foot, where it is a tilt of a post.
        candidates: Vec<Measured>,
    },
    /// The value is not what the point should show: is it meant?
    Implausible {
        shown: Shown,
        /// What was expected, as it would be shown (`about +1.3°`).
        expected: String,
        why: String,
    },
}

impl Question {
    /// What a person should know before answering, for a face with buttons.
    pub fn facts(&self, units: Units) -> String {
        match self {
            Self::Record { measured, .. } => format!("{}.", measured.words(units)),
            Self::Which { .. } => "What moved is not what was told.".to_owned(),
            Self::Touched { start } => format!(
                "The signal went in the middle of a move that began at {}. If the level was touched, the start is worth nothing.",
                start.words()
            ),
            Self::Moved { seq, by, .. } => {
                format!("The value is {} from entry {seq}, which it would be averaged with.", difference(*by))
            }
            Self::Implausible { shown, expected, why } => {
                format!("{} is shown, {expected} is expected: {why}.", shown.words())
            }
        }
    }

    /// The question in words, with the keys of a terminal that answer it.
    pub fn words(&self, units: Units) -> String {
        match self {
            Self::Record { measured, others } if others.is_empty() => {
                format!("{}. Record it? [Y/n]", measured.words(units))
            }
            Self::Record { measured, .. } => {
                format!("{}. Record it? [Y/n, o: it was another screw]", measured.words(units))
            }
            Self::Which { candidates } => {
                let list: Vec<String> =
                    candidates.iter().zip(1..).map(|(it, at)| format!("{at} {}", it.words(units))).collect();
                format!("Which screw was turned? {}  n none", list.join("  "))
            }
            Self::Touched { .. } => {
                "Was the level touched meanwhile? [y/n]  n goes on with the start, y drops it".to_owned()
            }
            Self::Moved { seq, by, candidates } => {
                let move_words =
                    if candidates.is_empty() { "m it was: record the move first" } else { "m record a move" };
                format!(
                    "{} from entry {seq}. Was something moved? {move_words}, n no: a new round",
                    difference(*by)
                )
            }
            Self::Implausible { shown, expected, why } => {
                format!("{} is shown, {expected} is expected: {why}. ! takes it, n leaves it", shown.words())
            }
        }
    }
}

fn difference(by: f64) -> String {
    shown::with_unit(&shown::significant(by.abs(), 2), "deg")
}
