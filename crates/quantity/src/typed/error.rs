//! What can be wrong with a typed value, and the message for it.

use super::limits;
use crate::Kind;
use core::fmt;

/// What is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Nothing was typed.
    Empty,
    /// Longer than any value.
    TooLong,
    /// A number is missing.
    NotANumber,
    /// A dash that is not a minus sign.
    Dash,
    /// A comma, as decimal mark or between thousands.
    Comma,
    /// Not a number, or infinite.
    NotFinite,
    /// Hexadecimal, octal or binary.
    NotDecimal,
    /// 9.91E37 or 9.9E37, which instruments send when they have no value (not-a-number and infinity in SCPI).
    NotAReading,
    /// More than one number.
    TwoNumbers,
    /// No unit is called this.
    UnknownUnit,
    /// A unit is required and missing.
    UnitMissing,
    /// `"` where it could mean inches or seconds of angle.
    Ambiguous,
    /// Not the expected quantity.
    WrongQuantity {
        /// The quantity expected.
        expected: Kind,
        /// The quantity typed.
        found: Kind,
    },
    /// 60 or more minutes or seconds.
    SixtyOrMore,
    /// Minutes or seconds without their mark.
    MarkMissing,
    /// Decimals in a part that a smaller part follows.
    DecimalsBeforeSmaller,
    /// A slope not written as 1:N.
    Slope,
    /// A fraction with zero below the line, or a mixed number whose fraction is 1 or more.
    Fraction,
    /// A fraction of something other than inches.
    FractionUnit,
    /// Beyond what can be measured on a wing.
    OutOfRange {
        /// The quantity.
        kind: Kind,
    },
    /// More decimals than any instrument can show.
    TooFine,
}

/// A typed value that was refused: what is wrong, where, and what to write instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TypedError {
    /// What is wrong.
    pub fault: Fault,
    /// Where in the text, in bytes from the start.
    pub at: usize,
    /// The quantity expected, if one was.
    pub expected: Option<Kind>,
}

impl core::error::Error for TypedError {}

impl fmt::Display for TypedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.fault {
            Fault::Empty => write!(f, "nothing was typed; write {}", self.forms()),
            Fault::TooLong => f.write_str("too long for one value"),
            Fault::NotANumber => write!(f, "no number here; write {}", self.forms()),
            Fault::Dash => f.write_str("this dash is not a minus sign; write -"),
            Fault::Comma => f.write_str("write the decimal mark as a point, not a comma, as in 0.35"),
            Fault::NotFinite => f.write_str("not a finite number; leave out a value that could not be read"),
            Fault::NotDecimal => f.write_str("only decimal numbers can be read, as in 0.35"),
            Fault::NotAReading => f.write_str(
                "not a reading: this number is what an instrument sends when it has no value; measure again",
            ),
            Fault::TwoNumbers => write!(f, "more than one number; write {}", self.forms()),
            Fault::UnknownUnit => write!(f, "unknown unit; write {}", self.units()),
            Fault::UnitMissing => write!(f, "the unit is missing; write {}", self.units()),
            Fault::Ambiguous => {
                f.write_str("\" can be inches or seconds of angle; write in for inches or arcsec for seconds")
            }
            Fault::WrongQuantity { expected, found } => {
                let (right, given) = (expected.one(), found.one());
                write!(f, "{right} is expected, but this is {given}; write {}", forms(expected))
            }
            Fault::SixtyOrMore => {
                f.write_str("minutes and seconds go up to 59; carry the rest, as in 1°15' for 75'")
            }
            Fault::MarkMissing => {
                f.write_str("minutes need ' after them and seconds \", as in 0°21' or 0°21'30\"")
            }
            Fault::DecimalsBeforeSmaller => {
                f.write_str("only the last part can have decimals, as in 0°21.5' or 0.35°")
            }
            Fault::Slope => f.write_str("write a slope as 1:164"),
            Fault::Fraction => f.write_str("not a fraction of an inch; write it as 5/64 in or 1-3/8 in"),
            Fault::FractionUnit => f.write_str("only inches can have a fraction; write 5/64 in"),
            Fault::OutOfRange { kind } => {
                write!(f, "beyond what can be measured on a wing: {} goes from ", kind.word())?;
                f.write_str(limits::possible_words(kind))
            }
            Fault::TooFine => f.write_str("more decimals than any instrument shows; write fewer"),
        }
    }
}

impl TypedError {
    fn forms(&self) -> &'static str {
        self.expected.map_or("a number with its unit, as in 0.35 deg or 3.2 mm", forms)
    }

    fn units(&self) -> &'static str {
        match self.expected {
            Some(Kind::Angle) => "deg, °, arcmin, arcsec, mrad or mm/m",
            Some(Kind::Length) => "mm, cm, m or in",
            Some(Kind::Torque) => "N·m, in-lb or ft-lb",
            Some(Kind::Temperature) => "°C or °F",
            Some(Kind::Force) => "N, lbf or kgf",
            None => "deg, arcmin, mrad, mm/m, mm, cm, m, in, N·m, in-lb, ft-lb, °C, °F, N, lbf or kgf",
        }
    }
}

const fn forms(kind: Kind) -> &'static str {
    match kind {
        Kind::Angle => "it as 0.35, 0°21', 6.1 mm/m or 1:164",
        Kind::Length => "it as 3.2, 3.2 mm, 0.126 in or 5/64 in",
        Kind::Torque => "it as 9.5, 9.5 N·m or 84 in-lb",
        Kind::Temperature => "it as 21, 21 °C or 70 °F",
        Kind::Force => "it as 310, 310 N, 70 lbf or 32 kgf",
    }
}
