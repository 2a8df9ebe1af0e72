//! What can be wrong with the form of a line.

use thiserror::Error;

/// What is wrong with the form of a line, and where.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("at character {}: {fault}", .at + 1)]
pub struct TemplateError {
    /// The byte of the form where it was found.
    pub at: usize,
    #[source]
    pub fault: TemplateFault,
}

/// What is wrong with the form of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum TemplateFault {
    #[error(
        "a hole is written {{axis unit}}, {{axis unit .decimals}}, {{sign axis}}, {{state S=steady M=moving}}, {{number}} or \
         {{word}}; a brace itself is written {{{{"
    )]
    Hole,
    #[error("the axes are angle, cross, length, temperature, torque and force")]
    Axis,
    /// Unknown, or of another quantity.
    #[error("this is not a unit of that axis (deg, mm/m, mrad; mm, in; degC; Nm, in-lb; N, lbf)")]
    Unit,
    #[error("put something between two holes, so that it is clear where one ends")]
    Touching,
    #[error("this axis is there already; use {{number}} for a number that is not needed")]
    Twice,
    #[error("there is no value in it, such as {{angle deg}}")]
    NoValue,
    #[error("nearly any line fits this; give the number of decimals, as in {{angle deg .2}}")]
    Loose,
    #[error("this is too long (at most 48 parts, 4 values, 160 characters, 12 words)")]
    TooLong,
    /// It ends a line or cannot be seen.
    #[error("a line cannot contain this character; `begins` and `ends` say where a line begins and ends")]
    Control,
    #[error(
        "write words as S=steady; a state means steady, moving, hold, over, battery or warming, a sign + or -"
    )]
    Words,
    #[error("the line has no value for this sign")]
    Sign,
}
