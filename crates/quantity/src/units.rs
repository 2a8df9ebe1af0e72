//! The units in which values are shown.

use crate::{Kind, Unit, unit_named};

/// The units in which a person wants to see values, one for each quantity. They do not affect how a bare typed number
/// is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Units {
    angle: Unit,
    length: Unit,
    torque: Unit,
    temperature: Unit,
    force: Unit,
}

/// A unit that values can be shown in, and its word in a plan and on the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnitWord {
    pub word: &'static str,
    pub unit: Unit,
}

/// Every unit that values can be shown in.
pub const UNIT_WORDS: [UnitWord; 11] = [
    UnitWord { word: "deg", unit: Unit::Degree },
    UnitWord { word: "deg-min", unit: Unit::ArcMinute },
    UnitWord { word: "mm", unit: Unit::Millimetre },
    UnitWord { word: "in", unit: Unit::Inch },
    UnitWord { word: "N·m", unit: Unit::NewtonMetre },
    UnitWord { word: "in-lb", unit: Unit::InchPound },
    UnitWord { word: "ft-lb", unit: Unit::FootPound },
    UnitWord { word: "N", unit: Unit::Newton },
    UnitWord { word: "lbf", unit: Unit::PoundForce },
    UnitWord { word: "kgf", unit: Unit::KilogramForce },
    UnitWord { word: "°C", unit: Unit::Celsius },
];

impl Units {
    /// Degrees, millimetres, newton metres, °C and newtons.
    pub const INSIDE: Self = Self {
        angle: Unit::Degree,
        length: Unit::Millimetre,
        torque: Unit::NewtonMetre,
        temperature: Unit::Celsius,
        force: Unit::Newton,
    };

    /// The unit of a quantity. Minutes of angle mean degrees and minutes.
    pub const fn of(self, kind: Kind) -> Unit {
        match kind {
            Kind::Angle => self.angle,
            Kind::Length => self.length,
            Kind::Torque => self.torque,
            Kind::Temperature => self.temperature,
            Kind::Force => self.force,
        }
    }

    /// The same, with this unit for its quantity. A unit that values cannot be shown in changes nothing.
    #[must_use]
    pub const fn with(mut self, unit: Unit) -> Self {
        match unit {
            Unit::Degree | Unit::ArcMinute => self.angle = unit,
            Unit::Millimetre | Unit::Inch => self.length = unit,
            Unit::NewtonMetre | Unit::InchPound | Unit::FootPound => self.torque = unit,
            Unit::Celsius | Unit::Fahrenheit => self.temperature = unit,
            Unit::Newton | Unit::PoundForce | Unit::KilogramForce => self.force = unit,
            Unit::ArcSecond
            | Unit::Milliradian
            | Unit::MillimetrePerMetre
            | Unit::Ratio
            | Unit::Centimetre
            | Unit::Metre => {}
        }
        self
    }

    /// The unit that a word names: those of [`UNIT_WORDS`], `dms`, `°F` and other spellings of the same units.
    pub fn named(word: &str) -> Option<Unit> {
        let word = word.trim();
        if ["deg-min", "dms"].iter().any(|w| w.eq_ignore_ascii_case(word)) {
            return Some(Unit::ArcMinute);
        }
        let unit = unit_named(word)?;
        let shown = unit == Unit::Fahrenheit || UNIT_WORDS.iter().any(|known| known.unit == unit);
        (shown && unit != Unit::ArcMinute).then_some(unit)
    }

    /// The unit of a bare number for a person who works in these units; `None` if it is the base unit.
    pub fn bare(self, kind: Kind) -> Option<Unit> {
        let unit = match self.of(kind) {
            Unit::ArcMinute => Unit::Degree,
            unit => unit,
        };
        Some(unit).filter(|unit| *unit != kind.base_unit())
    }
}

impl Default for Units {
    fn default() -> Self {
        Self::INSIDE
    }
}
