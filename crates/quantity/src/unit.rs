//! The units people write, and their conversion to base units.

crate::words! {
    /// What sort of quantity a number is.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
    #[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(rename_all = "lowercase"))]
    pub enum Kind {
        /// Base unit degrees.
        Angle = "angle",
        /// Base unit millimetres.
        Length = "length",
        /// Base unit newton metres.
        Torque = "torque",
        /// Base unit degrees Celsius.
        Temperature = "temperature",
        /// Base unit newtons.
        Force = "force",
    }
}

impl Kind {
    /// The base unit as written after a number.
    pub const fn base_symbol(self) -> &'static str {
        match self {
            Self::Angle => "deg",
            Self::Length => "mm",
            Self::Torque => "N·m",
            Self::Temperature => "°C",
            Self::Force => "N",
        }
    }

    /// The unit in which values are stored and computed.
    pub const fn base_unit(self) -> Unit {
        match self {
            Self::Angle => Unit::Degree,
            Self::Length => Unit::Millimetre,
            Self::Torque => Unit::NewtonMetre,
            Self::Temperature => Unit::Celsius,
            Self::Force => Unit::Newton,
        }
    }

    /// Whether the quantity has no direction, so that its values are written without a plus.
    pub const fn is_size(self) -> bool {
        match self {
            Self::Angle | Self::Length => false,
            Self::Torque | Self::Temperature | Self::Force => true,
        }
    }

    /// The word with its article: `an angle`.
    pub const fn one(self) -> &'static str {
        match self {
            Self::Angle => "an angle",
            Self::Length => "a length",
            Self::Torque => "a torque",
            Self::Temperature => "a temperature",
            Self::Force => "a force",
        }
    }
}

/// A unit that a person writes or an instrument shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// Degrees of angle.
    Degree,
    /// Minutes of angle, 1/60 degree.
    ArcMinute,
    /// Seconds of angle, 1/3600 degree.
    ArcSecond,
    Milliradian,
    /// Slope in millimetres per metre; the angle is its arc tangent.
    MillimetrePerMetre,
    /// Slope as rise over run (`1:164`); the angle is its arc tangent.
    Ratio,
    /// Millimetres.
    Millimetre,
    /// Centimetres.
    Centimetre,
    /// Metres.
    Metre,
    /// Inches of exactly 25.4 mm.
    Inch,
    /// Newton metres.
    NewtonMetre,
    /// Pound-force inches: 1 lbf·in is 0.112 984 829 027 616 7 N·m exactly (0.0254 m × 4.448 221 615 260 5 N).
    InchPound,
    /// Pound-force feet: 12 lbf·in.
    FootPound,
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
    Newton,
    /// Pounds-force of exactly 4.448 221 615 260 5 N.
    PoundForce,
    /// Kilograms-force of exactly 9.806 65 N.
    KilogramForce,
}

impl Unit {
    /// The quantity it measures.
    pub const fn kind(self) -> Kind {
        match self {
            Self::Degree
            | Self::ArcMinute
            | Self::ArcSecond
            | Self::Milliradian
            | Self::MillimetrePerMetre
            | Self::Ratio => Kind::Angle,
            Self::Millimetre | Self::Centimetre | Self::Metre | Self::Inch => Kind::Length,
            Self::NewtonMetre | Self::InchPound | Self::FootPound => Kind::Torque,
            Self::Celsius | Self::Fahrenheit => Kind::Temperature,
            Self::Newton | Self::PoundForce | Self::KilogramForce => Kind::Force,
        }
    }

    /// How it is written after a number; this text reads back as the same unit.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Degree => "deg",
            Self::ArcMinute => "arcmin",
            Self::ArcSecond => "arcsec",
            Self::Milliradian => "mrad",
            Self::MillimetrePerMetre => "mm/m",
            Self::Ratio => "1:n",
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Inch => "in",
            Self::NewtonMetre => "N·m",
            Self::InchPound => "in-lb",
            Self::FootPound => "ft-lb",
            Self::Celsius => "°C",
            Self::Fahrenheit => "°F",
            Self::Newton => "N",
            Self::PoundForce => "lbf",
            Self::KilogramForce => "kgf",
        }
    }

    /// Converts from the base unit to this unit; the inverse of [`Unit::to_base`].
    pub fn from_base(self, base: f64) -> f64 {
        match self {
            Self::Degree | Self::Millimetre | Self::NewtonMetre | Self::Celsius | Self::Newton => base,
            Self::ArcMinute => base * 60.0,
            Self::ArcSecond => base * 3600.0,
            Self::Milliradian => base.to_radians() * 1000.0,
            Self::MillimetrePerMetre => libm::tan(base.to_radians()) * 1000.0,
            Self::Ratio => libm::tan(base.to_radians()),
            Self::Centimetre => base / 10.0,
            Self::Metre => base / 1000.0,
            Self::Inch => base / 25.4,
            Self::InchPound => base / INCH_POUND,
            Self::FootPound => base / (12.0 * INCH_POUND),
            Self::Fahrenheit => base * 1.8 + 32.0,
            Self::PoundForce => base / POUND,
            Self::KilogramForce => base / KILOGRAM,
        }
    }

    /// Whether it is a slope, which is not proportional to its angle.
    pub const fn is_slope(self) -> bool {
        matches!(self, Self::MillimetrePerMetre | Self::Ratio)
    }

    /// Converts a number in this unit to the base unit (degrees, millimetres, newton metres, °C, newtons).
    pub fn to_base(self, value: f64) -> f64 {
        match self {
            Self::Degree | Self::Millimetre | Self::NewtonMetre | Self::Celsius | Self::Newton => value,
            Self::ArcMinute => value / 60.0,
            Self::ArcSecond => value / 3600.0,
            Self::Milliradian => (value / 1000.0).to_degrees(),
            Self::MillimetrePerMetre => libm::atan(value / 1000.0).to_degrees(),
            Self::Ratio => libm::atan(value).to_degrees(),
            Self::Centimetre => value * 10.0,
            Self::Metre => value * 1000.0,
            Self::Inch => value * 25.4,
            Self::InchPound => value * INCH_POUND,
            Self::FootPound => value * 12.0 * INCH_POUND,
            Self::Fahrenheit => (value - 32.0) / 1.8,
            Self::PoundForce => value * POUND,
            Self::KilogramForce => value * KILOGRAM,
        }
    }
}

/// 1 lbf·in in N·m, exact by the definitions of the inch and the pound-force.
const INCH_POUND: f64 = 0.112_984_829_027_616_7;
/// 1 lbf in N, exact: the pound of 0.453 592 37 kg times the standard acceleration, 9.806 65 m/s².
const POUND: f64 = 4.448_221_615_260_5;
/// 1 kgf in N, exact by the standard acceleration.
const KILOGRAM: f64 = 9.806_65;
