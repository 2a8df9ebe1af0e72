//! What the bench wants done: written into the log, asked of the board, said to the person.

use crate::{Said, Target};
use instrument::Request;
use quantity::{Celsius, Kind};
use record::{Asked, Facing, Instrument, MoveSeen, Point};

/// One thing the bench wants done.
#[derive(Clone, Debug, PartialEq)]
pub enum Out {
    /// Written into the log; [`Bench::wrote`](crate::Bench::wrote) or [`Bench::not_written`](crate::Bench::not_written) is
    /// called before anything else.
    Write(Write),
    Ask(Request),
    Say(Said),
}

#[derive(Clone, Debug, PartialEq)]
pub enum Write {
    /// Readings of one take: one, or two where the instrument has two axes.
    Readings(Vec<NewReading>),
    Move(NewMove),
    Withdraw {
        seq: u64,
        reason: String,
    },
}

#[derive(Clone, Debug, PartialEq)]
pub struct NewReading {
    pub point: Point,
    pub quantity: Kind,
    /// As the instrument sent it, with its unit; of several samples their mean in the same digits.
    pub text: String,
    /// What that is, in the base unit; the facing's sign not applied.
    pub value: f64,
    /// Standard deviation of the samples, in the base unit.
    pub scatter: f64,
    pub samples: u32,
    /// The step of the display, or of what was sent where that is coarser.
    pub resolution: f64,
    pub rest: Rested,
    pub facing: Option<Facing>,
    /// The instrument. The log may not know it yet.
    pub instrument: Instrument,
    pub temperature: Option<Celsius>,
    pub round: Round,
    /// The question that was answered with yes before it was taken.
    pub asked: Option<Asked>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rested {
    Settled,
    /// It had not; the entry says so.
    Unsettled,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Round {
    /// The one under way goes on.
    GoesOn,
    Begins,
}

#[derive(Clone, Debug, PartialEq)]
pub struct NewMove {
    pub support: String,
    /// How far, positive up, or in the support's direction, in mm.
    pub mm: f64,
    /// Its standard uncertainty in mm.
    pub u_mm: f64,
    /// The same as a person reads it.
    pub text: String,
    /// The change that a level on a station showed.
    pub seen: Option<MoveSeen>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Wrote {
    /// The number of the first entry written.
    pub seq: u64,
    /// One line for the person, from the writer.
    pub line: String,
}

#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Mine {
    pub seq: u64,
    pub target: Target,
    pub text: String,
    pub at_ms: u64,
    pub withdrawn: bool,
}
