//! The instrument wanted on the port.

use instrument::{Axis, SettleSettings, kind_of};
use quantity::Kind;
use record::Instrument;

/// What the bench knows about an instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct Device {
    /// Its data, as in a log.
    pub facts: Instrument,
    pub measures: Axis,
    /// +1, or -1 if the instrument counts the other way.
    pub sign: f64,
    /// When it is at rest.
    pub settle: SettleSettings,
    pub zeroes: Zeroes,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zeroes {
    OnRequest,
    ByItsButton,
}

impl Device {
    pub const fn quantity(&self) -> Kind {
        kind_of(self.measures)
    }

    /// The number that the instrument should have, if the one that reports its identity has another. After
    /// unplugging, a port's name may lead to another instrument.
    pub fn wanted_instead_of(&self, number: &str) -> Option<&str> {
        self.facts.number.as_deref().filter(|wanted| *wanted != number)
    }

    /// Its second axis as an instrument of its own: it has its own zero, and a check of the first axis does not cover
    /// it.
    pub fn second(&self) -> Instrument {
        let name = format!("{}, second axis", self.facts.name);
        Instrument { name, checked: None, due: None, ..self.facts.clone() }
    }
}
