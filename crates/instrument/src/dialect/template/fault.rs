//! What can be wrong with the form of a line.

use core::fmt;

/// What is wrong with the form of a line, and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TemplateError {
    /// The byte of the form where it was found.
    pub at: usize,
    /// What it is.
    pub fault: TemplateFault,
}

/// What is wrong with the form of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TemplateFault {
    /// Not a valid hole.
    Hole,
    /// An unknown axis.
    Axis,
    /// The unit is unknown, or does not measure the axis.
    Unit,
    /// Two holes with nothing between them.
    Touching,
    /// The same axis twice.
    Twice,
    /// No value at all.
    NoValue,
    /// Nearly any line fits it.
    Loose,
    /// More parts, values or characters than can be stored.
    TooLong,
    /// A character that ends a line or cannot be seen.
    Control,
    /// The words of a state or a sign are not valid.
    Words,
    /// A sign of an axis that has no value in the line.
    Sign,
}

impl fmt::Display for TemplateFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Hole => {
                "a hole is written {axis unit}, {axis unit .decimals}, {sign axis}, {state S=steady M=moving}, {number} or \
                 {word}; a brace itself is written {{"
            }
            Self::Axis => "the axes are angle, cross, length, temperature, torque and force",
            Self::Unit => "this is not a unit of that axis (deg, mm/m, mrad; mm, in; degC; Nm, in-lb; N, lbf)",
            Self::Touching => "put something between two holes, so that it is clear where one ends",
            Self::Twice => "this axis is there already; use {number} for a number that is not needed",
            Self::NoValue => "there is no value in it, such as {angle deg}",
            Self::Loose => "nearly any line fits this; give the number of decimals, as in {angle deg .2}",
            Self::Control => "a line cannot contain this character; `begins` and `ends` say where a line \
                begins and ends",
            Self::TooLong => "this is too long (at most 48 parts, 4 values, 160 characters, 12 words)",
            Self::Words => {
                "write words as S=steady; a state means steady, moving, hold, over, battery or warming, a sign + or -"
            }
            Self::Sign => "the line has no value for this sign",
        })
    }
}

impl fmt::Display for TemplateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "at character {}: {}", self.at + 1, self.fault)
    }
}

impl core::error::Error for TemplateFault {}

impl core::error::Error for TemplateError {
    fn source(&self) -> Option<&(dyn core::error::Error + 'static)> {
        Some(&self.fault)
    }
}
