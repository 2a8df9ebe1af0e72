//! How far a support was moved, as a person writes it: `3/8 turn cw`, `0.5 mm`, `+0.2 mm shim`.

use crate::refusal::Refusal;
use crate::{NotKnown, SessionError, Unknown};
use nom::branch::alt;
use nom::bytes::complete::{tag, tag_no_case};
use nom::character::complete::{digit1, space0, space1};
use nom::combinator::{map, map_res, opt, recognize};
use nom::sequence::{delimited, terminated};
use nom::{IResult, Parser};
use quantity::{Kind, Millimetres, Units, typed_or_in};
use record::Plan;
use record::plan::{Adjust, Clockwise};

/// How a support or foot of the plan is moved.
pub(crate) fn adjust_of<'a>(plan: &'a Plan, name: &str) -> Result<&'a Adjust, SessionError> {
    let feet = plan.posts.iter().flat_map(|p| &p.feet).map(|f| (&f.name, &f.adjust));
    let all = plan.supports.iter().map(|s| (&s.name, &s.adjust)).chain(feet);
    if let Some((_, adjust)) = all.clone().find(|(n, _)| n.as_str() == name) {
        return Ok(adjust);
    }
    Err(NotKnown::name(Unknown::Support(name.to_owned()), name, all.map(|(n, _)| n.clone())).into())
}

/// The move in millimetres, positive in the support's direction.
///
/// # Errors
/// If the text is not an amount, gives turns for something without a screw, or is a bare number for a screw, which
/// could be turns.
pub(crate) fn amount(text: &str, adjust: &Adjust, units: Units) -> Result<Millimetres, SessionError> {
    let text = text.trim();
    let turned = Turned::read(text);
    if let Some((turned, way)) = turned.as_ref().and_then(|turned| Some((turned, turned.way()?))) {
        return match adjust {
            Adjust::Screw { per_turn, clockwise } => {
                let along = (way == Way::Clockwise) == (*clockwise == Clockwise::Along);
                Ok(*per_turn * if along { turned.turns } else { -turned.turns })
            }
            Adjust::Shims { .. } => Err(Refusal::MovedByShims.into()),
            Adjust::Fixed => Err(Refusal::DoesNotMove.into()),
        };
    }
    let length = strip_word(text, "shims").or_else(|| strip_word(text, "shim")).unwrap_or(text);
    let millimetres = typed_or_in(length, Kind::Length, units.bare(Kind::Length)).map_err(|source| {
        match turned.filter(|_| matches!(adjust, Adjust::Screw { .. })) {
            Some(Turned { way: "", .. }) => SessionError::from(Refusal::TurnsOrLength(text.to_owned())),
            Some(turned) if turned.is_word() => {
                NotKnown::word("way to turn a screw", turned.way, WAYS.map(|(word, _)| word)).into()
            }
            _ => Refusal::NoAmount { text: text.to_owned(), source }.into(),
        }
    })?;
    if matches!(adjust, Adjust::Fixed) {
        return Err(Refusal::DoesNotMove.into());
    }
    let has_unit = length.chars().any(|c| c.is_alphabetic() || matches!(c, '"' | '″'));
    if matches!(adjust, Adjust::Screw { .. }) && !has_unit {
        return Err(Refusal::TurnsOrLength(text.to_owned()).into());
    }
    Ok(Millimetres::new(millimetres.amount.base()))
}

fn strip_word<'a>(text: &'a str, word: &str) -> Option<&'a str> {
    text.strip_suffix(word).map(str::trim_end)
}

/// The direction in which a screw was turned, in every word for it.
const WAYS: [(&str, Way); 7] = [
    ("cw", Way::Clockwise),
    ("ccw", Way::Anticlockwise),
    ("clockwise", Way::Clockwise),
    ("anticlockwise", Way::Anticlockwise),
    ("anti-clockwise", Way::Anticlockwise),
    ("counterclockwise", Way::Anticlockwise),
    ("counter-clockwise", Way::Anticlockwise),
];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Clockwise,
    Anticlockwise,
}

/// Turns as typed, with the word for the direction, if any: `3/8 turn cw`, `3 1/4 cw`.
struct Turned<'t> {
    turns: f64,
    way: &'t str,
}

impl<'t> Turned<'t> {
    fn read(text: &'t str) -> Option<Self> {
        let unit = opt((alt((tag_no_case("turns"), tag_no_case("turn"))), space1));
        let read: IResult<_, _> = terminated(turns, (space0, unit)).parse(text);
        read.ok().map(|(way, turns)| Self { turns, way })
    }

    fn way(&self) -> Option<Way> {
        WAYS.iter().find(|(word, _)| word.eq_ignore_ascii_case(self.way)).map(|(_, way)| *way)
    }

    /// Whether the text after the number can be a direction.
    fn is_word(&self) -> bool {
        self.way.chars().all(|c| c.is_alphabetic() || c == '-')
    }
}

/// `3/8`, `1 3/8`, `1-3/8`, `1.25`, `2`.
fn turns(text: &str) -> IResult<&str, f64> {
    let mixed = map((opt(terminated(number, alt((space1, tag("-"))))), fraction), |(whole, part)| {
        whole.unwrap_or(0.0) + part
    });
    let decimal = map_res(recognize((digit1, opt((tag("."), digit1)))), str::parse::<f64>);
    alt((mixed, decimal)).parse(text)
}

fn number(text: &str) -> IResult<&str, f64> {
    map_res(digit1, str::parse::<f64>).parse(text)
}

fn fraction(text: &str) -> IResult<&str, f64> {
    let (rest, (above, _, below)) = (number, delimited(space0, tag("/"), space0), number).parse(text)?;
    if below == 0.0 {
        return Err(nom::Err::Error(nom::error::Error::new(text, nom::error::ErrorKind::Verify)));
    }
    Ok((rest, above / below))
}

#[cfg(test)]
mod tests;
