//! How far a support was moved, as a person says it: `3/8 turn cw`, `0.5 mm`, `+0.2 mm shim`.

use super::points::nearest;
use crate::refusal::Refusal;
use crate::{NotKnown, SessionError, Unknown};
use nom::branch::alt;
use nom::bytes::complete::{tag, tag_no_case};
use nom::character::complete::{digit1, space0, space1};
use nom::combinator::{all_consuming, map, map_res, opt, recognize, value};
use nom::sequence::{delimited, pair, preceded, terminated};
use nom::{IResult, Parser};
use quantity::{Kind, Millimetres, Units, typed, typed_in};
use record::Plan;
use record::plan::Adjust;

/// A support or foot of the plan, as far as moving it goes.
pub(crate) fn adjust_of<'a>(plan: &'a Plan, name: &str) -> Result<&'a Adjust, SessionError> {
    let feet = plan.posts.iter().flat_map(|p| &p.feet).map(|f| (&f.name, &f.adjust));
    let all = plan.supports.iter().map(|s| (&s.name, &s.adjust)).chain(feet);
    if let Some((_, adjust)) = all.clone().find(|(n, _)| n.as_str() == name) {
        return Ok(adjust);
    }
    let near = nearest(name, all.map(|(n, _)| n.clone()));
    Err(NotKnown { what: Unknown::Support(name.to_owned()), nearest: near }.into())
}

/// The move in millimetres, positive in the support's direction.
///
/// # Errors
/// When the text is no amount, is turns for something that has no screw, or is a bare number for a screw: that could be turns.
pub(crate) fn amount(text: &str, adjust: &Adjust, units: Units) -> Result<Millimetres, SessionError> {
    let text = text.trim();
    if let Ok((_, (turns, clockwise))) = turned(text) {
        return match adjust {
            Adjust::Screw { per_turn, clockwise_raises } => {
                let sign = if clockwise == *clockwise_raises { 1.0 } else { -1.0 };
                Ok(*per_turn * (turns * sign))
            }
            Adjust::Shims { .. } => Err(Refusal::MovedByShims.into()),
            Adjust::Fixed => Err(Refusal::DoesNotMove.into()),
        };
    }
    let length = strip_word(text, "shims").or_else(|| strip_word(text, "shim")).unwrap_or(text);
    let bare = units.bare(Kind::Length);
    let millimetres = bare
        .map_or_else(|| typed(length, Kind::Length), |unit| typed_in(length, unit))
        .map_err(|source| SessionError::NoAmount { text: text.to_owned(), source })?;
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

/// `3/8 turn cw`, `3 1/4 cw`: the turns, and true for clockwise.
fn turned(text: &str) -> IResult<&str, (f64, bool)> {
    let unit = opt(terminated(alt((tag_no_case("turns"), tag_no_case("turn"))), space1));
    all_consuming(pair(terminated(turns, space0), preceded(unit, way))).parse(text)
}

fn way(text: &str) -> IResult<&str, bool> {
    alt((
        value(true, tag_no_case("clockwise")),
        value(true, tag_no_case("cw")),
        value(false, tag_no_case("counter-clockwise")),
        value(false, tag_no_case("counterclockwise")),
        value(false, tag_no_case("anticlockwise")),
        value(false, tag_no_case("anti-clockwise")),
        value(false, tag_no_case("ccw")),
    ))
    .parse(text)
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
