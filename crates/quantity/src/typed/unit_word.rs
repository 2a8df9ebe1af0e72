//! The ways a unit is written.

use super::parsed::Parsed;
use crate::Unit;
use nom::Parser;
use nom::branch::alt;
use nom::bytes::complete::{tag, tag_no_case};
use nom::combinator::{all_consuming, opt, value};

/// Spellings that are compared exactly.
const EXACT: [(&str, Unit); 26] = [
    ("°", Unit::Degree),
    ("\u{ba}", Unit::Degree),
    ("\u{2da}", Unit::Degree),
    ("d", Unit::Degree),
    ("mrad", Unit::Milliradian),
    ("mm/m", Unit::MillimetrePerMetre),
    ("mm per m", Unit::MillimetrePerMetre),
    ("mm", Unit::Millimetre),
    ("cm", Unit::Centimetre),
    ("m", Unit::Metre),
    ("Nm", Unit::NewtonMetre),
    ("N m", Unit::NewtonMetre),
    ("N·m", Unit::NewtonMetre),
    ("N\u{22c5}m", Unit::NewtonMetre),
    ("N\u{2022}m", Unit::NewtonMetre),
    ("N*m", Unit::NewtonMetre),
    ("N.m", Unit::NewtonMetre),
    ("N-m", Unit::NewtonMetre),
    ("°C", Unit::Celsius),
    ("\u{ba}C", Unit::Celsius),
    ("C", Unit::Celsius),
    ("\u{2103}", Unit::Celsius),
    ("°F", Unit::Fahrenheit),
    ("\u{ba}F", Unit::Fahrenheit),
    ("F", Unit::Fahrenheit),
    ("N", Unit::Newton),
];

/// Words in which capitals do not matter.
const WORDS: [(&str, Unit); 14] = [
    ("deg", Unit::Degree),
    ("degree", Unit::Degree),
    ("degrees", Unit::Degree),
    ("arcmin", Unit::ArcMinute),
    ("arcsec", Unit::ArcSecond),
    ("in", Unit::Inch),
    ("inch", Unit::Inch),
    ("inches", Unit::Inch),
    ("degC", Unit::Celsius),
    ("degF", Unit::Fahrenheit),
    ("lbf", Unit::PoundForce),
    ("lb", Unit::PoundForce),
    ("lbs", Unit::PoundForce),
    ("kgf", Unit::KilogramForce),
];

/// The unit with this spelling; the whole text must match.
pub(super) fn named(text: &str) -> Option<Unit> {
    let exact = EXACT.iter().find(|(word, _)| *word == text);
    let either = || WORDS.iter().find(|(word, _)| word.eq_ignore_ascii_case(text));
    let torque = || all_consuming(pound_torque).parse(text).ok().map(|(_, unit)| unit);
    exact.or_else(either).map(|&(_, unit)| unit).or_else(torque)
}

/// Whether this is an inch mark that can also mean seconds.
pub(super) fn is_inch_mark(text: &str) -> bool {
    matches!(text, "\"" | "\u{2033}" | "\u{201d}" | "''" | "\u{2032}\u{2032}" | "\u{2019}\u{2019}")
}

fn joint(input: &str) -> Parsed<'_, Option<&str>> {
    opt(alt((tag("-"), tag("·"), tag("\u{22c5}"), tag("\u{2022}"), tag("*"), tag("."), tag(" "))))
        .parse(input)
}

fn pound(input: &str) -> Parsed<'_, &str> {
    alt((tag_no_case("lbf"), tag_no_case("lbs"), tag_no_case("lb"))).parse(input)
}

fn arm(input: &str) -> Parsed<'_, Unit> {
    alt((
        value(Unit::InchPound, alt((tag_no_case("inch"), tag_no_case("in")))),
        value(Unit::FootPound, alt((tag_no_case("foot"), tag_no_case("ft")))),
    ))
    .parse(input)
}

/// `in-lb`, `lbf·in`, `ft lbs` and similar.
fn pound_torque(input: &str) -> Parsed<'_, Unit> {
    let arm_first = (arm, joint, pound).map(|(unit, _, _)| unit);
    let pound_first = (pound, joint, arm).map(|(_, _, unit)| unit);
    alt((arm_first, pound_first)).parse(input)
}
