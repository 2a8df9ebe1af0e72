//! What can be wrong with the form of a line.

use core::fmt;

/// What is wrong with the form of a line, and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TemplateError {
    /// The byte of the form it was found at.
    pub at: usize,
    /// What it is.
    pub fault: TemplateFault,
}

/// What is wrong with the form of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TemplateFault {
    /// A hole that does not read as one.
    Hole,
    /// The axis is not known.
    Axis,
    /// The unit is not known, or does not measure the axis.
    Unit,
    /// Two holes with nothing between them.
    Touching,
    /// The same axis twice.
    Twice,
    /// No value at all.
    NoValue,
    /// Nearly anything fits it.
    Loose,
    /// More parts, values or characters than can be kept.
    TooLong,
    /// A character that ends a line or cannot be seen.
    Control,
    /// The words of a state or a sign that do not read as such.
    Words,
    /// A sign of something that has no value in the line.
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
            Self::Touching => "there must be something between two holes, or nobody can tell where one ends",
            Self::Twice => "this axis is there already; use {number} for a number that is not needed",
            Self::NoValue => "there is no value in it, such as {angle deg}",
            Self::Loose => "nearly any line fits this; say how many decimals there are, as in {angle deg .2}",
            Self::Control => "a line cannot hold this character; where a line begins and ends is said by `begins` and `ends`",
            Self::TooLong => "this is more than can be kept (48 parts, 4 values, 160 characters, 12 words)",
            Self::Words => {
                "words are written S=steady; what they mean is steady, moving, hold, over, battery or warming, of a sign + or -"
            }
            Self::Sign => "the line has no value that this is the sign of",
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
