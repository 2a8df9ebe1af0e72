//! A number with its quantity.

use crate::Kind;
use core::fmt;

/// A value of any of the five quantities.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Amount {
    kind: Kind,
    base: f64,
}

impl Amount {
    /// An amount of the given kind from a number in the base unit.
    pub const fn from_base(kind: Kind, base: f64) -> Self {
        Self { kind, base }
    }

    /// The number in the base unit: degrees, millimetres, newton metres, °C or newtons.
    pub const fn base(self) -> f64 {
        self.base
    }

    /// Which quantity it is.
    pub const fn kind(self) -> Kind {
        self.kind
    }
}

impl fmt::Display for Amount {
    /// The number, with the formatter's precision where one is given, and the unit.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let symbol = if self.kind == Kind::Angle { "°" } else { self.kind.base_symbol() };
        fmt::Display::fmt(&self.base, f)?;
        write!(f, " {symbol}")
    }
}
