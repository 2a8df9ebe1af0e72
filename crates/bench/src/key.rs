//! What a person does at the bench.

use crate::{Seat, Target};
use quantity::Celsius;
use record::Facing;

/// One action of a person. Each face has its own keys and buttons for it.
#[derive(Clone, Debug, PartialEq)]
pub enum Key {
    /// What [`View::main`](crate::View::main) says: take, start, record.
    Main,
    Take,
    /// Take the value although it has not settled, was taken already, or is not as expected.
    TakeAnyway,
    /// The instrument was turned end for end.
    Turn,
    Face(Facing),
    Skip,
    Back,
    Go(Target),
    /// The instrument already has this facing, as given at the start of the loop of moves; it was not turned now.
    Lies(Facing),
    /// One facing for every point; without one, both are asked for.
    Only(Option<Facing>),
    /// Withdraw the last reading of this run.
    Withdraw {
        reason: String,
    },
    /// Ask the board to use the present value as zero.
    Zero,
    /// Take each value and record each move automatically, or stop doing so.
    HandsFree(HandsFree),
    /// Level this post by the loop of moves.
    Level(String),
    /// Move the spars by the loop of moves, following the advice.
    Moves,
    LeaveLevel,
    /// How the instrument lies on a post.
    Seat(Seat),
    Temperature(Option<Celsius>),
    Answer(Answer),
}

/// Whether values are taken automatically.
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
    /// One of the other candidates, from 0.
    Other(usize),
    /// Nothing is written: the question is dropped, and the value is examined again.
    Leave,
}
