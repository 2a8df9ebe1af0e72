//! The pieces of a form as written: literals, spaces and holes.

use super::TemplateFault;
use crate::{Axis, Flags};
use nom::branch::alt;
use nom::bytes::complete::{tag, take_till, take_till1, take_while1};
use nom::character::complete::{digit1, space0, space1};
use nom::combinator::{all_consuming, opt};
use nom::sequence::{delimited, preceded, terminated};
use nom::{IResult, Parser};
use quantity::Unit;

/// A piece of the form as written.
pub(super) enum Piece<'a> {
    Literal(&'a str),
    Space,
    Degree,
    Hole(&'a str),
}

pub(super) fn piece(form: &str) -> IResult<&str, Piece<'_>> {
    let plain = |c: char| matches!(c, '{' | ' ' | '\t' | '°' | 'º');
    alt((
        space1.map(|_| Piece::Space),
        alt((tag("°"), tag("º"))).map(|_| Piece::Degree),
        preceded(tag("{"), tag("{")).map(Piece::Literal),
        delimited(tag("{"), take_till1(|c| c == '}' || c == '{'), tag("}")).map(Piece::Hole),
        take_till1(plain).map(Piece::Literal),
    ))
    .parse(form)
}

pub(super) enum Hole<'a> {
    Value {
        axis: Axis,
        unit: Unit,
        decimals: Option<u8>,
    },
    Number,
    Word,
    /// The words, each with its meaning.
    State(&'a str),
    Sign {
        axis: Axis,
        words: &'a str,
    },
}

/// The meaning of a word of a state or a sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Meaning {
    Says(Flags),
    Minus,
}

impl Meaning {
    fn of(word: &str) -> Option<Self> {
        Some(match word {
            "steady" | "+" => Self::Says(Flags::NONE),
            "moving" => Self::Says(Flags::MOVING),
            "hold" => Self::Says(Flags::HELD),
            "over" => Self::Says(Flags::OVER_RANGE),
            "battery" => Self::Says(Flags::BATTERY_LOW),
            "warming" => Self::Says(Flags::WARMING_UP),
            "-" => Self::Minus,
            _ => return None,
        })
    }
}

/// Reads the text between the braces.
pub(super) fn hole(text: &str) -> Result<Hole<'_>, TemplateFault> {
    let text = text.trim();
    let (first, rest) = text.split_once([' ', '\t']).unwrap_or((text, ""));
    match first {
        "number" if rest.is_empty() => return Ok(Hole::Number),
        "word" if rest.is_empty() => return Ok(Hole::Word),
        "state" if !rest.is_empty() => return Ok(Hole::State(rest.trim())),
        "sign" if !rest.is_empty() => {
            let rest = rest.trim();
            let (word, words) = rest.split_once(' ').unwrap_or((rest, ""));
            let axis = Axis::from_word(word.as_bytes()).ok_or(TemplateFault::Axis)?;
            return Ok(Hole::Sign { axis, words: words.trim() });
        }
        _ => {}
    }
    let (_, (axis, unit, decimals)) = value_hole(text).map_err(|_| TemplateFault::Hole)?;
    let axis = Axis::from_word(axis.as_bytes()).ok_or(TemplateFault::Axis)?;
    let unit = quantity::unit_named(unit)
        .filter(|unit| unit.kind() == crate::kind_of(axis))
        .ok_or(TemplateFault::Unit)?;
    let decimals = match decimals.map(str::parse::<u8>) {
        None => None,
        Some(Ok(count)) if count <= 9 => Some(count),
        Some(_) => return Err(TemplateFault::Hole),
    };
    Ok(Hole::Value { axis, unit, decimals })
}

/// Axis, unit and decimals of a hole.
fn value_hole(hole: &str) -> IResult<&str, (&str, &str, Option<&str>)> {
    let axis = terminated(take_while1(|c: char| c.is_ascii_lowercase()), space1);
    let unit = take_till1(|c: char| c == ' ');
    let decimals = opt(preceded((space1, tag(".")), digit1));
    all_consuming(delimited(space0, (axis, unit, decimals), space0)).parse(hole)
}

/// The words of a state or a sign, each with its meaning: `S=steady`; an empty word means that nothing is there.
pub(super) fn words(text: &str) -> impl Iterator<Item = Result<(&str, Meaning), TemplateFault>> {
    let pair = |pair| {
        let word: IResult<&str, &str> = terminated(take_till(|c| c == '='), tag("=")).parse(pair);
        let (meaning, word) = word.map_err(|_| TemplateFault::Words)?;
        if word.chars().any(char::is_control) {
            return Err(TemplateFault::Control);
        }
        Meaning::of(meaning).map(|meaning| (word, meaning)).ok_or(TemplateFault::Words)
    };
    text.split_ascii_whitespace().map(pair)
}
