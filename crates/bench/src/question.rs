//! What the bench asks before it writes.

use crate::{Measured, Shown};
use quantity::{Units, shown};

/// An open question. Until it is answered, nothing is written.
#[derive(Clone, Debug, PartialEq)]
pub enum Question {
    /// A move was measured as announced: record it? Yes, no, or it was another screw.
    Record {
        /// The measured move of the announced foot.
        measured: Measured,
        /// The move of each other foot that would explain it.
        others: Vec<Measured>,
    },
    /// The measured move is not the announced one: which screw was it? One of these, or none.
    Which {
        /// The move of each foot that can explain it.
        candidates: Vec<Measured>,
    },
    /// The signal was lost during a move: was the level touched meanwhile?
    Touched { start: Shown },
    /// The value disagrees with a reading it would be averaged with: was something moved? Yes records a move, no
    /// begins a new round.
    Moved {
        seq: u64,
        /// By how much, in the base unit.
        by: f64,
        /// The move of each foot that would explain it, if it is a tilt of a post.
        candidates: Vec<Measured>,
    },
    /// The value is not what the point should show: is it meant?
    Implausible {
        shown: Shown,
        /// The expected value as shown (`about +1.3°`).
        expected: String,
        why: String,
    },
}

impl Question {
    /// What a person should know before answering, for a face with buttons.
    pub fn facts(&self, units: Units) -> String {
        match self {
            Self::Record { measured, .. } => format!("{}.", measured.words(units)),
            Self::Which { .. } => "The measured move is not the one announced.".to_owned(),
            Self::Touched { start } => format!(
                "The signal was lost during a move that began at {}. If the level was touched, the start is \
                    no longer valid.",
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

    /// The question as text, with the terminal keys that answer it.
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
