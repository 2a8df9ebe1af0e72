//! A number with its quantity.

use crate::{Celsius, Degrees, Kind, Millimetres, NewtonMetres, Newtons};
use core::fmt;

/// A value of any of the five quantities.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub enum Amount {
    Angle(Degrees),
    Length(Millimetres),
    Torque(NewtonMetres),
    Temperature(Celsius),
    Force(Newtons),
}

impl Amount {
    /// An amount of the given kind from a number in the base unit.
    pub const fn from_base(kind: Kind, value: f64) -> Self {
        match kind {
            Kind::Angle => Self::Angle(Degrees::new(value)),
            Kind::Length => Self::Length(Millimetres::new(value)),
            Kind::Torque => Self::Torque(NewtonMetres::new(value)),
            Kind::Temperature => Self::Temperature(Celsius::new(value)),
            Kind::Force => Self::Force(Newtons::new(value)),
        }
    }

    /// The number in the base unit: degrees, millimetres, newton metres, °C or newtons.
    pub const fn base(self) -> f64 {
        match self {
            Self::Angle(v) => v.value(),
            Self::Length(v) => v.value(),
            Self::Torque(v) => v.value(),
            Self::Temperature(v) => v.value(),
            Self::Force(v) => v.value(),
        }
    }

    /// Which quantity it is.
    pub const fn kind(self) -> Kind {
        match self {
            Self::Angle(_) => Kind::Angle,
            Self::Length(_) => Kind::Length,
            Self::Torque(_) => Kind::Torque,
            Self::Temperature(_) => Kind::Temperature,
            Self::Force(_) => Kind::Force,
        }
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Angle(v) => v.fmt(f),
            Self::Length(v) => v.fmt(f),
            Self::Torque(v) => v.fmt(f),
            Self::Temperature(v) => v.fmt(f),
            Self::Force(v) => v.fmt(f),
        }
    }
}
