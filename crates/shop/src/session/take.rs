//! Taking a reading.

use quantity::Amount;
use record::{Entry, Facing, Point};

/// A reading as a person typed it.
#[derive(Clone, Debug, Default)]
pub struct Take {
    /// The point (`incidence@S4`).
    pub point: String,
    /// The value as typed (`0.35`, `-21'30"`, `6.1 mm/m`).
    pub text: String,
    /// Which way the instrument faced; forward if none is given and the point's kind reverses.
    pub facing: Option<Facing>,
    /// The instrument; where one alone is known for the quantity, that one.
    pub instrument: Option<String>,
    /// Temperature of the part as typed (`21`, `70 °F`).
    pub temperature: Option<String>,
    /// Who took it; the session's person if none is given.
    pub by: Option<String>,
    /// True to begin a new round.
    pub new_round: bool,
    /// A remark.
    pub note: Option<String>,
}

/// A value that came from a port.
#[derive(Clone, Debug)]
pub struct TakeSettled {
    /// The point.
    pub point: Point,
    /// The mean of the samples, as displayed (the facing's sign not applied).
    pub amount: Amount,
    /// Standard deviation of the samples, in the unit used inside.
    pub scatter: f64,
    /// How many samples were averaged.
    pub samples: u32,
    /// Step of the instrument's display, in the unit used inside.
    pub resolution: f64,
    /// True if it had not settled when it was taken.
    pub unsettled: bool,
    /// Which way the instrument faced.
    pub facing: Option<Facing>,
    /// The instrument's name.
    pub instrument: Option<String>,
    /// Temperature of the part, in °C.
    pub temperature: Option<quantity::Celsius>,
    /// True to begin a new round.
    pub new_round: bool,
}

/// What was written, once it is on disk.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// The entry.
    pub entry: Entry,
    /// One line for the person.
    pub ack: String,
}
