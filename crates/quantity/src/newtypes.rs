//! The five quantities, each with its own type, so that a length cannot be added to an angle.

use core::fmt;
use core::ops::{Add, Mul, Neg, Sub};

macro_rules! quantities {
    ($($(#[$doc:meta])* $name:ident $symbol:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
        #[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize), serde(transparent))]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("A value in ", $symbol, ".")]
            pub const fn new(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("The plain number, in ", $symbol, ".")]
            pub const fn value(self) -> f64 {
                self.0
            }

            /// The magnitude, sign dropped.
            #[must_use]
            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }
        }

        impl From<$name> for f64 {
            fn from(value: $name) -> Self {
                value.0
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl fmt::Display for $name {
            /// The number, with the formatter's precision where one is given, and the unit.
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(&self.0, f)?;
                f.write_str(concat!(" ", $symbol))
            }
        }
    )*};
}

quantities! {
    /// A length in millimetres.
    Millimetres "mm";
    /// An angle in degrees.
    Degrees "°";
    /// A torque in newton metres.
    NewtonMetres "N·m";
    /// A temperature in degrees Celsius.
    Celsius "°C";
    /// A force in newtons.
    Newtons "N";
}
