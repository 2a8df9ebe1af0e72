//! What a person does at the bench.

use crate::{Seat, Target};
use quantity::Celsius;
use record::Facing;

/// One thing a person does. Each face has its own keys and buttons for it.
#[derive(Clone, Debug, PartialEq)]
pub enum Key {
    /// What [`View::main`](crate::View::main) says: take, start, record.
    Main,
    Take,
    /// Take the value although it has not settled, was taken already, or is not what was expected.
    TakeAnyway,
    /// The instrument was turned end for end.
    Turn,
    Face(Facing),
    Skip,
    Back,
    Go(Target),
    /// The instrument lies this way already, as one tells at the start of the loop of moves; it was not turned now.
    Lies(Facing),
    /// One facing for every point, or none: both are asked for.
    Only(Option<Facing>),
    /// Withdraw the last reading of this run.
    Withdraw {
        reason: String,
    },
    /// Ask the board to take the present value for zero.
    Zero,
    /// Take each value, and record each move, by itself; or no longer.
    HandsFree(HandsFree),
    /// Level this post by the loop of moves.
    Level(String),
    /// Move the spars by the loop of moves, as advised.
    Moves,
    LeaveLevel,
    /// How the instrument lies on a post.
    Seat(Seat),
    Temperature(Option<Celsius>),
    /// The next reading begins a round.
    NewRound,
    Answer(Answer),
}

/// Whether values are taken by themselves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum HandsFree {
    /// Only on a key.
    #[default]
    Off,
    /// Each rest once, as it comes.
    On,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    Yes,
    No,
    /// One of the others offered, from 0.
    Other(usize),
    /// Nothing is written: the question is left, and the value looked at again.
    Leave,
}
