//! Decimal numbers as people and instruments write them (NRf of IEEE 488.2: `146`, `-12.3`, `+1.0E-2`).

use super::Fault;
use super::parsed::{Fail, Parsed, fail};
use nom::branch::alt;
use nom::bytes::complete::{take_while, take_while1};
use nom::character::complete::{char, one_of};
use nom::combinator::{opt, recognize};
use nom::sequence::{pair, preceded};
use nom::{Err, Parser};

/// An exponent with more digits than this cannot belong to a real value.
const EXPONENT_DIGITS: usize = 4;

/// A number without its sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Number {
    /// Its size; the sign is separate.
    pub value: f64,
    /// One unit of its last digit.
    pub step: f64,
    /// True if it was written as digits alone.
    pub whole: bool,
}

/// The number of bytes before the text proper, and the text without the space around it.
pub(super) fn trim(text: &str) -> (usize, &str) {
    let body = text.trim_start();
    (text.len() - body.len(), body.trim_end())
}

/// Any space, including the kinds that come with text pasted from print.
pub(super) fn space(input: &str) -> Parsed<'_, &str> {
    take_while(char::is_whitespace).parse(input)
}

/// A sign and what follows it: -1 or +1.
pub(super) fn sign(input: &str) -> Parsed<'_, f64> {
    if input.starts_with(['\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2014}', '\u{2015}']) {
        return fail(input, Fault::Dash);
    }
    let (rest, mark) = opt(one_of("+-\u{2212}")).parse(input)?;
    let (rest, _) = space(rest)?;
    Ok((rest, if matches!(mark, Some('-' | '\u{2212}')) { -1.0 } else { 1.0 }))
}

fn digits(input: &str) -> Parsed<'_, &str> {
    take_while1(|c: char| c.is_ascii_digit()).parse(input)
}

fn mantissa(input: &str) -> Parsed<'_, &str> {
    alt((
        recognize(pair(digits, opt(pair(char('.'), opt(digits))))), //
        recognize(pair(char('.'), digits)),
    ))
    .parse(input)
}

fn exponent(input: &str) -> Parsed<'_, &str> {
    preceded(one_of("eE"), recognize(pair(opt(one_of("+-")), digits))).parse(input)
}

/// A number without its sign.
pub(super) fn number(input: &str) -> Parsed<'_, Number> {
    let (after, base) = mantissa(input)?;
    let (rest, power) = opt(exponent).parse(after)?;
    let decimals = base.find('.').map_or(0, |dot| base.len() - dot - 1);
    let shift = match power {
        None => 0,
        Some(text) if text.trim_start_matches(['+', '-', '0']).len() > EXPONENT_DIGITS => {
            return fail(input, Fault::NotFinite);
        }
        Some(text) => {
            text.parse::<i32>().map_err(|_| Err::Failure(Fail { rest: after, fault: Fault::NotFinite }))?
        }
    };
    let written = input.get(..input.len() - rest.len()).unwrap_or(base);
    let value =
        written.parse::<f64>().map_err(|_| Err::Failure(Fail { rest: input, fault: Fault::NotANumber }))?;
    if value == 9.91e37 || value == 9.9e37 {
        return fail(input, Fault::NotAReading);
    }
    if !value.is_finite() {
        return fail(input, Fault::NotFinite);
    }
    let places = i32::try_from(decimals).unwrap_or(i32::MAX);
    let whole = power.is_none() && !base.contains('.');
    Ok((rest, Number { value, step: power_of_ten(shift.saturating_sub(places)), whole }))
}

/// Most digits of a number that [`short`] reads. Up to this length the digits are exact as a whole number, and so is
/// the power of ten that divides them, so the quotient is the double nearest to the text.
const SHORT: usize = 15;

/// Reads a short number with at most an ASCII sign, as found in nearly every table cell and display. `None` for
/// anything else, which the full grammar reads.
pub(super) fn short(text: &str) -> Option<(f64, Number)> {
    let (sign, digits) = match text.as_bytes() {
        [b'-', rest @ ..] => (-1.0, rest),
        [b'+', rest @ ..] => (1.0, rest),
        all => (1.0, all),
    };
    let (mut read, mut count, mut decimals) = (0_u64, 0, None);
    for byte in digits {
        match byte {
            b'0'..=b'9' if count < SHORT => {
                read = 10 * read + u64::from(byte - b'0');
                count += 1;
                decimals = decimals.map(|n| n + 1);
            }
            b'.' if decimals.is_none() && count > 0 => decimals = Some(0),
            _ => return None,
        }
    }
    let places = decimals.unwrap_or(0);
    let value = read as f64 / power_of_ten(places);
    (count > 0).then_some((sign, Number { value, step: power_of_ten(-places), whole: decimals.is_none() }))
}

/// Ten to the power n, correctly rounded while the power itself is exact (up to 22).
fn power_of_ten(n: i32) -> f64 {
    let mut power = 1.0_f64;
    for _ in 0..n.unsigned_abs().min(400) {
        power *= 10.0;
    }
    if n < 0 { 1.0 / power } else { power }
}
