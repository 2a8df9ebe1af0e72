//! The grammar of a typed value: a sign, then an angle in degrees, minutes and seconds, a slope, a fraction, or a
//! number with a unit.

use super::Fault;
use super::number::{Number, number, short, sign, space};
use super::parsed::{Fail, Parsed, fail};
use super::unit_word::{is_inch_mark, named};
use crate::{Kind, Unit};
use nom::branch::alt;
use nom::bytes::complete::{tag, tag_no_case, take_while1};
use nom::character::complete::one_of;
use nom::combinator::{not, opt, peek};
use nom::{Err, Parser};

/// Largest denominator of a fraction.
const MAX_DENOMINATOR: u32 = 1000;

/// What is expected.
#[derive(Clone, Copy, Debug)]
pub(super) struct Context {
    /// The quantity, if it is known.
    pub expect: Option<Kind>,
    /// The unit of a bare number, if a bare number is allowed.
    pub bare: Option<Unit>,
}

/// What was read: a number, the step of its last digit, and the unit of both.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shape {
    pub value: f64,
    pub step: f64,
    pub unit: Unit,
}

/// Reads a whole text without space around it.
pub(super) fn read(text: &str, context: Context) -> Result<Shape, Fail<'_>> {
    match (context.bare.filter(|unit| *unit != Unit::Ratio), short(text)) {
        (Some(unit), Some((sign, Number { value, step, .. }))) => {
            Ok(Shape { value: sign * value, step, unit })
        }
        _ => by_grammar(text, context),
    }
}

fn by_grammar(text: &str, context: Context) -> Result<Shape, Fail<'_>> {
    if text.is_empty() {
        return Err(Fail { rest: text, fault: Fault::Empty });
    }
    if let Some(comma) = text.find(',') {
        return Err(Fail { rest: text.get(comma..).unwrap_or(text), fault: Fault::Comma });
    }
    let whole = |input| {
        let (rest, sign) = sign(input)?;
        refuse_no_numbers(rest)?;
        let (_, shape) =
            alt((sexagesimal, slope, |i| fraction(i, context), |i| plain(i, context))).parse(rest)?;
        Ok(Shape { value: sign * shape.value, ..shape })
    };
    whole(text).map_err(|error| match error {
        Err::Error(fail) | Err::Failure(fail) => fail,
        Err::Incomplete(_) => Fail { rest: text, fault: Fault::NotANumber },
    })
}

fn refuse_no_numbers(input: &str) -> Result<(), Err<Fail<'_>>> {
    let starts = |word: &str| input.get(..word.len()).is_some_and(|head| head.eq_ignore_ascii_case(word));
    let fault = if starts("nan") || starts("inf") {
        Fault::NotFinite
    } else if starts("0x") || starts("0b") || starts("0o") || input.starts_with(['#', '$']) {
        Fault::NotDecimal
    } else {
        return Ok(());
    };
    Err(Err::Failure(Fail { rest: input, fault }))
}

fn degree_mark(input: &str) -> Parsed<'_, &str> {
    let sign = alt((tag("°"), tag("\u{ba}"), tag("\u{2da}")));
    let word = alt((tag_no_case("degrees"), tag_no_case("degree"), tag_no_case("deg"), tag("d")));
    let temperature = one_of("CF");
    alt((sign, word)).and(peek(not(temperature))).map(|(mark, ())| mark).parse(input)
}

fn second_mark(input: &str) -> Parsed<'_, &str> {
    let doubled = alt((tag("''"), tag("\u{2032}\u{2032}"), tag("\u{2019}\u{2019}")));
    alt((tag("\""), tag("\u{2033}"), tag("\u{201d}"), doubled)).parse(input)
}

fn minute_mark(input: &str) -> Parsed<'_, &str> {
    let mark = alt((tag("'"), tag("\u{2032}"), tag("\u{2019}")));
    (peek(not(second_mark)), mark).map(|((), mark)| mark).parse(input)
}

/// `0°21'30"`, `0d21m30s`, `21'30"`; [`plain`] reads seconds alone and degrees alone.
fn sexagesimal(input: &str) -> Parsed<'_, Shape> {
    let (after, first) = number(input)?;
    let (after, _) = space(after)?;
    if let Ok((rest, _)) = degree_mark(after) {
        let (rest, _) = space(rest)?;
        let (rest, minutes) = opt(number).parse(rest)?;
        let Some(minutes) = minutes else {
            return Err(Err::Error(Fail { rest, fault: Fault::UnknownUnit }));
        };
        let words = alt((tag_no_case("arcmin"), tag_no_case("min"), tag("m")));
        let (mark, _) = space(rest)?;
        let Ok((rest, _)) = alt((minute_mark, words)).parse(mark) else {
            return fail(mark, Fault::MarkMissing);
        };
        return seconds(input, rest, first, minutes);
    }
    let (rest, _) = minute_mark(after)?;
    seconds(input, rest, Number { value: 0.0, step: 1.0, whole: true }, first)
}

fn seconds<'a>(start: &'a str, rest: &'a str, degrees: Number, minutes: Number) -> Parsed<'a, Shape> {
    if !degrees.whole {
        return fail(start, Fault::DecimalsBeforeSmaller);
    }
    if minutes.value >= 60.0 {
        return fail(start, Fault::SixtyOrMore);
    }
    let (rest, _) = space(rest)?;
    let whole_minutes = degrees.value * 60.0 + minutes.value;
    if rest.is_empty() {
        return Ok((rest, Shape { value: whole_minutes, step: minutes.step, unit: Unit::ArcMinute }));
    }
    let Ok((after, seconds)) = number(rest) else {
        return fail(rest, Fault::UnknownUnit);
    };
    let words = alt((tag_no_case("arcsec"), tag_no_case("sec"), tag("s")));
    let (mark, _) = space(after)?;
    let Ok((end, _)) = alt((second_mark, words)).parse(mark) else {
        return fail(mark, Fault::MarkMissing);
    };
    if !minutes.whole {
        return fail(start, Fault::DecimalsBeforeSmaller);
    }
    if seconds.value >= 60.0 {
        return fail(rest, Fault::SixtyOrMore);
    }
    if !end.is_empty() {
        return fail(end, Fault::TwoNumbers);
    }
    Ok((
        end,
        Shape { value: whole_minutes * 60.0 + seconds.value, step: seconds.step, unit: Unit::ArcSecond },
    ))
}

/// `1:164`. The step is one in the second number, converted to the slope.
fn slope(input: &str) -> Parsed<'_, Shape> {
    let (after, rise) = number(input)?;
    let (second, _) = (space, tag(":"), space).parse(after)?;
    let Ok((rest, run)) = number(second) else {
        return fail(second, Fault::Slope);
    };
    if !(rise.whole && rise.value == 1.0 && run.value > 0.0) {
        return fail(input, Fault::Slope);
    }
    if !rest.is_empty() {
        return fail(rest, Fault::Slope);
    }
    let half = run.step / 2.0;
    let step = 1.0 / (run.value - half) - 1.0 / (run.value + half);
    Ok((rest, Shape { value: 1.0 / run.value, step, unit: Unit::Ratio }))
}

fn whole(input: &str) -> Parsed<'_, u32> {
    let (rest, digits) = take_while1(|c: char| c.is_ascii_digit()).parse(input)?;
    match digits.parse() {
        Ok(n) => Ok((rest, n)),
        Err(_) => Err(Err::Error(Fail { rest: input, fault: Fault::Fraction })),
    }
}

/// `5/64`, as numerator and denominator.
fn over(input: &str) -> Parsed<'_, (u32, u32)> {
    let (after, numerator) = whole(input)?;
    let (after, _) = one_of("/\u{2044}").parse(after)?;
    let Ok((rest, denominator)) = whole(after) else {
        return fail(after, Fault::Fraction);
    };
    if denominator == 0 || denominator > MAX_DENOMINATOR {
        return fail(after, Fault::Fraction);
    }
    Ok((rest, (numerator, denominator)))
}

/// `5/64 in`, `1 3/8 in`, `1-3/8"`; without its unit where a bare number is in inches.
fn fraction(input: &str, context: Context) -> Parsed<'_, Shape> {
    let mixed = |i| {
        let (rest, inches) = whole(i)?;
        let (part, _) = alt((tag("-"), tag("\u{2011}"), take_while1(char::is_whitespace))).parse(rest)?;
        let (rest, (above, below)) = over(part)?;
        if above >= below {
            return fail(part, Fault::Fraction);
        }
        Ok((rest, (inches, above, below)))
    };
    let simple = over.map(|(above, below)| (0, above, below));
    let (rest, (inches, above, below)) = alt((simple, mixed)).parse(input)?;
    let (unit, _) = space(rest)?;
    let bare = unit.is_empty() && context.bare == Some(Unit::Inch);
    if !(bare || is_inch_mark(unit) || named(unit) == Some(Unit::Inch)) {
        return fail(unit, Fault::FractionUnit);
    }
    let step = 1.0 / f64::from(below);
    Ok(("", Shape { value: f64::from(inches) + f64::from(above) / f64::from(below), step, unit: Unit::Inch }))
}

/// A number, alone or with a unit.
fn plain(input: &str, context: Context) -> Parsed<'_, Shape> {
    let (rest, Number { value, step, .. }) = number(input)?;
    let (word, _) = space(rest)?;
    let unit = if word.is_empty() {
        match context.bare {
            Some(Unit::Ratio) => return fail(input, Fault::Slope),
            Some(unit) => unit,
            None => return fail(word, Fault::UnitMissing),
        }
    } else if is_inch_mark(word) {
        match context.expect {
            Some(Kind::Length) => Unit::Inch,
            None => return fail(word, Fault::Ambiguous),
            Some(_) if value >= 60.0 => return fail(input, Fault::SixtyOrMore),
            Some(_) => Unit::ArcSecond,
        }
    } else if let Some(unit) = named(word) {
        unit
    } else if word.starts_with(|c: char| c.is_ascii_digit() || ".+-\u{2212}".contains(c)) {
        return fail(word, Fault::TwoNumbers);
    } else {
        return fail(word, Fault::UnknownUnit);
    };
    Ok(("", Shape { value, step, unit }))
}
