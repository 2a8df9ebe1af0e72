//! The form of a text line, with named holes for its values.

use crate::values::MAX_VALUES;
use crate::{Axis, Decimal, Sample};
use core::fmt;
use nom::branch::alt;
use nom::bytes::complete::{tag, take_till1, take_while1};
use nom::character::complete::{digit1, space0, space1};
use nom::combinator::{all_consuming, opt};
use nom::sequence::{delimited, preceded, terminated};
use nom::{IResult, Parser};
use quantity::Unit;

const MAX_PARTS: usize = 16;
const MAX_LITERALS: usize = 64;

/// The form of a line, as an instrument file writes it: `X={angle deg},Y={cross deg .2}`.
///
/// - `{angle deg}` a number that is the angle, in degrees; the axes are those of [`Axis`], the units those
///   that are written after numbers (`deg`, `mm/m`, `mm`, `in`, `degC`, ..); `.2` asks for exactly two decimals
/// - `{number}` a number that is not used; `{word}` a run of letters and digits that is not used
/// - a space stands for any number of spaces, also for none; behind a hole, for one or more
/// - `{{` stands for `{`; everything else for itself
///
/// The line must be of this form from its first to its last character. A line without a check sum
/// gives no sign of a digit that was changed on the way, so a form that nearly anything fits is refused: one
/// without any character of its own must say its decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Template {
    parts: [Part; MAX_PARTS],
    count: usize,
    literals: [u8; MAX_LITERALS],
    literals_end: usize,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Part {
    /// These bytes of the literals.
    Literal {
        from: u8,
        to: u8,
    },
    /// One space or more, or also none.
    Space {
        some: bool,
    },
    Value {
        axis: Axis,
        unit: Unit,
        decimals: Option<u8>,
    },
    Number,
    Word,
}

impl Part {
    const fn is_hole(self) -> bool {
        matches!(self, Self::Value { .. } | Self::Number | Self::Word)
    }
}

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
}

impl fmt::Display for TemplateFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Hole => {
                "a hole is written {axis unit}, {axis unit .decimals}, {number} or {word}; a brace itself is written {{"
            }
            Self::Axis => "the axes are angle, cross, length, temperature and torque",
            Self::Unit => "this is not a unit of that axis (deg, mm/m, mrad; mm, in; degC; Nm, in-lb)",
            Self::Touching => "there must be something between two holes, or nobody can tell where one ends",
            Self::Twice => "this axis is there already; use {number} for a number that is not needed",
            Self::NoValue => "there is no value in it, such as {angle deg}",
            Self::Loose => "nearly any line fits this; say how many decimals there are, as in {angle deg .2}",
            Self::Control => "a line cannot hold this character; its end is not part of its form",
            Self::TooLong => "this is more than can be kept (16 parts, 4 values, 64 characters)",
        })
    }
}

impl fmt::Display for TemplateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "at character {}: {}", self.at + 1, self.fault)
    }
}

impl core::error::Error for TemplateError {}

/// A piece of the form as written.
enum Piece<'a> {
    Literal(&'a str),
    Space,
    Hole(&'a str),
}

fn piece(form: &str) -> IResult<&str, Piece<'_>> {
    alt((
        space1.map(|_| Piece::Space),
        preceded(tag("{"), tag("{")).map(Piece::Literal),
        delimited(tag("{"), take_till1(|c| c == '}' || c == '{'), tag("}")).map(Piece::Hole),
        take_till1(|c: char| c == '{' || c == ' ' || c == '\t').map(Piece::Literal),
    ))
    .parse(form)
}

/// Axis, unit and decimals of a hole.
fn value_hole(hole: &str) -> IResult<&str, (&str, &str, Option<&str>)> {
    let axis = terminated(take_while1(|c: char| c.is_ascii_lowercase()), space1);
    let unit = take_till1(|c: char| c == ' ');
    let decimals = opt(preceded((space1, tag(".")), digit1));
    all_consuming(delimited(space0, (axis, unit, decimals), space0)).parse(hole)
}

impl Template {
    /// Reads the form of a line.
    ///
    /// # Errors
    ///
    /// [`TemplateError`] with the place and what is wrong there.
    pub fn new(form: &str) -> Result<Self, TemplateError> {
        let mut template =
            Self { parts: [Part::Word; MAX_PARTS], count: 0, literals: [0; MAX_LITERALS], literals_end: 0 };
        let mut left = form;
        while !left.is_empty() {
            let at = form.len() - left.len();
            let wrong = |fault| TemplateError { at, fault };
            let (after, piece) = piece(left).map_err(|_| wrong(TemplateFault::Hole))?;
            match piece {
                Piece::Literal(text) => template.literal(text),
                Piece::Space => template.space(),
                Piece::Hole(hole) => hole_part(hole).and_then(|part| template.hole(part)),
            }
            .map_err(wrong)?;
            left = after;
        }
        template.whole().map_err(|fault| TemplateError { at: 0, fault })
    }

    /// How many values a line carries.
    #[must_use]
    pub fn values(&self) -> usize {
        self.axes().count()
    }

    /// The axes a line carries, in the order of the line.
    pub fn axes(&self) -> impl Iterator<Item = Axis> {
        self.parts().iter().filter_map(|part| match part {
            Part::Value { axis, .. } => Some(*axis),
            _ => None,
        })
    }

    fn parts(&self) -> &[Part] {
        self.parts.get(..self.count).unwrap_or_default()
    }

    fn push(&mut self, part: Part) -> Result<(), TemplateFault> {
        let slot = self.parts.get_mut(self.count).ok_or(TemplateFault::TooLong)?;
        *slot = part;
        self.count += 1;
        Ok(())
    }

    fn literal(&mut self, text: &str) -> Result<(), TemplateFault> {
        if text.contains(|c: char| c.is_control()) {
            return Err(TemplateFault::Control);
        }
        let from = self.literals_end;
        let to = from + text.len();
        self.literals.get_mut(from..to).ok_or(TemplateFault::TooLong)?.copy_from_slice(text.as_bytes());
        self.literals_end = to;
        let place = |at| u8::try_from(at).map_err(|_| TemplateFault::TooLong);
        self.push(Part::Literal { from: place(from)?, to: place(to)? })
    }

    fn space(&mut self) -> Result<(), TemplateFault> {
        let some = self.parts().last().is_some_and(|last| last.is_hole());
        self.push(Part::Space { some })
    }

    fn hole(&mut self, part: Part) -> Result<(), TemplateFault> {
        if self.parts().last().is_some_and(|last| last.is_hole()) {
            return Err(TemplateFault::Touching);
        }
        if let Part::Value { axis, .. } = part
            && self.axes().any(|other| other == axis)
        {
            return Err(TemplateFault::Twice);
        }
        self.push(part)
    }

    fn whole(self) -> Result<Self, TemplateFault> {
        if self.values() == 0 {
            return Err(TemplateFault::NoValue);
        }
        if self.values() > MAX_VALUES {
            return Err(TemplateFault::TooLong);
        }
        let own = self.literals.get(..self.literals_end).unwrap_or_default();
        let says_decimals =
            self.parts().iter().all(|part| !matches!(part, Part::Value { decimals: None | Some(0), .. }));
        if own.is_empty() && !says_decimals {
            return Err(TemplateFault::Loose);
        }
        Ok(self)
    }

    /// Reads the line of `length` bytes at the front, which ends there or has its end there, and hands out its values in
    /// order; says whether the line is of this form. Values are handed out before the end of the line is known to
    /// fit: they count only if it does.
    #[inline]
    pub(crate) fn read(&self, from: &[u8], length: usize, mut value: impl FnMut(Sample)) -> bool {
        // What stands behind the end is seen by numbers only, which the end ends.
        let mut left = from;
        for part in self.parts() {
            let after = match *part {
                Part::Literal { from, to } => self
                    .literals
                    .get(usize::from(from)..usize::from(to))
                    .and_then(|literal| after_literal(left, literal)),
                Part::Space { some } => {
                    let spaces = left.iter().take_while(|byte| **byte == b' ').count();
                    left.get(spaces..).filter(|_| spaces > 0 || !some)
                }
                Part::Value { axis, unit, decimals } => {
                    Decimal::leading(left).and_then(|(number, length)| {
                        let right =
                            decimals.is_none_or(|decimals| number.exponent == -decimals.cast_signed());
                        value(Sample::bare(axis, number, unit));
                        left.get(length..).filter(|_| right)
                    })
                }
                Part::Number => Decimal::leading(left).and_then(|(_, length)| left.get(length..)),
                Part::Word => {
                    let length = left.iter().take_while(|byte| byte.is_ascii_alphanumeric()).count();
                    left.get(length..).filter(|_| length > 0)
                }
            };
            match after {
                Some(after) => left = after,
                None => return false,
            }
        }
        from.len() - left.len() == length
    }
}

#[cfg(any(feature = "sim", test))]
impl Template {
    /// A line of this form with these samples' values in their holes; 0 where there is none.
    pub(crate) fn write(&self, samples: &[Sample]) -> std::string::String {
        let mut line = std::string::String::new();
        for part in self.parts() {
            match *part {
                Part::Literal { from, to } => {
                    let literal = self.literals.get(usize::from(from)..usize::from(to)).unwrap_or_default();
                    line.push_str(core::str::from_utf8(literal).unwrap_or_default());
                }
                Part::Space { .. } => line.push(' '),
                Part::Value { axis, .. } => {
                    let sample = samples.iter().find(|sample| sample.axis == axis);
                    let zero = Decimal { mantissa: 0, exponent: 0 };
                    line.push_str(&std::format!("{}", sample.map_or(zero, |sample| sample.value)));
                }
                Part::Number => line.push('0'),
                Part::Word => line.push('A'),
            }
        }
        line
    }
}

/// What follows the literal, which is so short that comparing byte by byte is the quickest.
#[inline]
fn after_literal<'a>(left: &'a [u8], literal: &[u8]) -> Option<&'a [u8]> {
    let (front, after) = left.split_at_checked(literal.len())?;
    front.iter().zip(literal).all(|(one, other)| one == other).then_some(after)
}

fn hole_part(hole: &str) -> Result<Part, TemplateFault> {
    let simple = delimited(space0, alt((tag("number"), tag("word"))), space0);
    let simple: IResult<&str, &str> = all_consuming(simple).parse(hole);
    match simple {
        Ok((_, "number")) => return Ok(Part::Number),
        Ok(_) => return Ok(Part::Word),
        Err(_) => {}
    }
    let (_, (axis, unit, decimals)) = value_hole(hole).map_err(|_| TemplateFault::Hole)?;
    let axis = Axis::from_word(axis.as_bytes()).ok_or(TemplateFault::Axis)?;
    let unit = quantity::unit_named(unit)
        .filter(|unit| unit.kind() == crate::kind_of(axis))
        .ok_or(TemplateFault::Unit)?;
    let decimals = match decimals.map(str::parse::<u8>) {
        None => None,
        Some(Ok(count)) if count <= 9 => Some(count),
        Some(_) => return Err(TemplateFault::Hole),
    };
    Ok(Part::Value { axis, unit, decimals })
}

#[cfg(test)]
mod tests;
