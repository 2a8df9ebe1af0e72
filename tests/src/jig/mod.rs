//! Simulated jigs with a level on them, and a hand that does roughly what it is told.

pub mod post;
pub mod wing;

use crate::seeded::Draws;

/// The level's file. It settles fast.
pub const LEVEL: &str = r#"
name = "tilt board"
kind = "inclinometer"
resolution = 0.01
accuracy = 0.05
repeatability = 0.005

[port]
baud = 9600

[dialect]
speaks = "lines"
line = "X={angle deg .2},Y={cross deg .2}"

[axes]
measures = "angle"
positive = "arrow end up"

[settle]
noise = 0.002
hold_ms = 1000
"#;

/// What a hand did when it was told something.
#[derive(Clone, Copy, Debug)]
pub struct Did {
    /// The screw.
    pub foot: usize,
    /// Its turns, clockwise positive.
    pub turns: f64,
}

/// The hand: 0.6 to 1.3 of what is said, sometimes a wrong one of the possible screws, sometimes none.
pub fn hand(draws: &mut Draws, told: usize, turns: f64, may_be: &[usize]) -> Option<Did> {
    let chance = draws.unit();
    let share = 0.6 + 0.7 * draws.unit();
    if chance < 0.1 {
        return None;
    }
    let others: Vec<usize> = may_be.iter().copied().filter(|foot| *foot != told).collect();
    let foot = if chance < 0.25 && !others.is_empty() { others[draws.index(others.len())] } else { told };
    Some(Did { foot, turns: turns * share })
}
