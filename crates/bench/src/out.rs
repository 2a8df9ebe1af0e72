//! What the bench wants done: written into the log, asked of the board, said to the person.

use crate::{Said, Target};
use instrument::Request;
use quantity::{Celsius, Kind};
use record::{Asked, Facing, Instrument, MoveSeen, Point};

/// One thing the bench wants done.
#[derive(Clone, Debug, PartialEq)]
pub enum Out {
    /// Write into the log; [`Bench::wrote`](crate::Bench::wrote) or [`Bench::not_written`](crate::Bench::not_written)
    /// is called before anything else.
    Write(Write),
    Ask(Request),
    Say(Said),
}

#[derive(Clone, Debug, PartialEq)]
pub enum Write {
    /// Readings of one take: one, or two if the instrument has two axes.
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
    /// As the instrument sent it, with its unit; for several samples, their mean in the same digits.
    pub text: String,
    /// The value in the base unit; the facing's sign is not applied.
    pub value: f64,
    /// Standard deviation of the samples, in the base unit.
    pub scatter: f64,
    pub samples: u32,
    /// The step of the display, or of what was sent if that is coarser.
    pub resolution: f64,
    pub rest: Rested,
    pub facing: Option<Facing>,
    /// The instrument, which may be new to the log.
    pub instrument: Instrument,
    pub temperature: Option<Celsius>,
    pub round: Round,
    /// The question that was answered with yes before the take.
    pub asked: Option<Asked>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rested {
    Settled,
    /// It had not settled; the entry says so.
    Unsettled,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Round {
    /// The present round continues.
    GoesOn,
    Begins,
}

#[derive(Clone, Debug, PartialEq)]
pub struct NewMove {
    pub support: String,
    /// How far, in mm, positive up or in the support's direction.
    pub mm: f64,
    /// Its standard uncertainty in mm.
    pub u_mm: f64,
    /// The same as text for a person.
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

/// A reading taken in this run.
#[derive(Clone, Debug, PartialEq)]
pub struct TakenHere {
    pub seq: u64,
    pub target: Target,
    pub text: String,
    /// When, on the bench's clock.
    pub at_ms: u64,
    pub withdrawn: bool,
}
