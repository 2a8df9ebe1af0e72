//! What is refused, the position of the error, and the message.

use quantity::{Fault, Kind, typed, typed_any, typed_in};

#[test]
fn refusals() {
    use Kind::{Angle, Length, Temperature, Torque};
    let rows: &[(&str, Kind, Fault, usize)] = &[
        ("", Angle, Fault::Empty, 0),
        ("   ", Angle, Fault::Empty, 3),
        ("0,35", Angle, Fault::Comma, 1),
        ("1,250 mm", Length, Fault::Comma, 1),
        ("NaN", Angle, Fault::NotFinite, 0),
        ("-nan", Angle, Fault::NotFinite, 1),
        ("inf", Length, Fault::NotFinite, 0),
        ("-Infinity", Length, Fault::NotFinite, 1),
        ("1e400", Length, Fault::NotFinite, 0),
        ("1e99999", Length, Fault::NotFinite, 0),
        ("0x1F", Length, Fault::NotDecimal, 0),
        ("#H1F", Length, Fault::NotDecimal, 0),
        // Not-a-number and the infinities of SCPI, in every form they are sent in.
        ("9.91E37", Angle, Fault::NotAReading, 0),
        ("+9.91E+37", Angle, Fault::NotAReading, 1),
        ("9.9E37", Angle, Fault::NotAReading, 0),
        ("-9.9000000e+37", Length, Fault::NotAReading, 1),
        ("deg", Angle, Fault::NotANumber, 0),
        (".", Angle, Fault::NotANumber, 1),
        ("--2", Angle, Fault::NotANumber, 1),
        ("\u{2013}2", Angle, Fault::Dash, 0),
        ("1.2.3", Angle, Fault::TwoNumbers, 3),
        ("1 2", Angle, Fault::TwoNumbers, 2),
        ("1-2", Angle, Fault::TwoNumbers, 1),
        ("3 furlongs", Length, Fault::UnknownUnit, 2),
        ("3 MM", Length, Fault::UnknownUnit, 2),
        ("6.8 nm", Torque, Fault::UnknownUnit, 4),
        ("0°75'", Angle, Fault::SixtyOrMore, 0),
        ("75'", Angle, Fault::SixtyOrMore, 0),
        ("0°21'60\"", Angle, Fault::SixtyOrMore, 6),
        ("90\"", Angle, Fault::SixtyOrMore, 0),
        ("0°21", Angle, Fault::MarkMissing, 5),
        ("0°21'30", Angle, Fault::MarkMissing, 8),
        ("0.5°21'", Angle, Fault::DecimalsBeforeSmaller, 0),
        ("0°21.5'30\"", Angle, Fault::DecimalsBeforeSmaller, 0),
        ("0°21'30\"5", Angle, Fault::TwoNumbers, 9),
        ("2:164", Angle, Fault::Slope, 0),
        ("12:30", Angle, Fault::Slope, 0),
        ("1:0", Angle, Fault::Slope, 0),
        ("1:", Angle, Fault::Slope, 2),
        ("1:-164", Angle, Fault::Slope, 2),
        ("1:164 deg", Angle, Fault::Slope, 5),
        ("5/0 in", Length, Fault::Fraction, 2),
        ("5/ in", Length, Fault::Fraction, 2),
        ("5/4096 in", Length, Fault::Fraction, 2),
        ("1 9/8 in", Length, Fault::Fraction, 2),
        ("5/64", Length, Fault::FractionUnit, 4),
        ("5/64 mm", Length, Fault::FractionUnit, 5),
        ("361", Angle, Fault::OutOfRange { kind: Angle }, 0),
        ("-100001", Length, Fault::OutOfRange { kind: Length }, 0),
        ("10001 N·m", Torque, Fault::OutOfRange { kind: Torque }, 0),
        ("120 °C", Temperature, Fault::OutOfRange { kind: Temperature }, 0),
        ("1e-9999", Angle, Fault::TooFine, 0),
        ("3.2 mm", Angle, Fault::WrongQuantity { expected: Angle, found: Length }, 0),
        (" 0.35°", Length, Fault::WrongQuantity { expected: Length, found: Angle }, 1),
        ("21°", Temperature, Fault::WrongQuantity { expected: Temperature, found: Angle }, 0),
        ("5 in-lb", Length, Fault::WrongQuantity { expected: Length, found: Torque }, 0),
        ("5 in", Torque, Fault::WrongQuantity { expected: Torque, found: Length }, 0),
        ("1:164", Length, Fault::WrongQuantity { expected: Length, found: Angle }, 0),
    ];
    for &(text, kind, fault, at) in rows {
        let error = typed(text, kind).expect_err(text);
        assert_eq!((error.fault, error.at, error.expected), (fault, at, Some(kind)), "{text:?}: {error}");
    }
    assert_eq!(typed(&"1".repeat(81), Kind::Length).unwrap_err().fault, Fault::TooLong);
}

#[test]
fn without_an_expected_quantity() {
    for (text, fault) in [
        ("3.2", Fault::UnitMissing),
        ("30\"", Fault::Ambiguous),
        ("0.126\"", Fault::Ambiguous),
        ("3.2 furlongs", Fault::UnknownUnit),
        ("", Fault::Empty),
    ] {
        assert_eq!(typed_any(text).expect_err(text).fault, fault, "{text}");
    }
    assert_eq!(typed_in("164", quantity::Unit::Ratio).unwrap_err().fault, Fault::Slope);
}

/// Each message says what to do.
#[test]
fn every_message_says_what_to_write() {
    for (text, kind, says) in [
        ("0,35", Kind::Angle, "as in 0.35"),
        ("3.2 mm", Kind::Angle, "an angle is expected, but this is a length; write it as 0.35, 0°21'"),
        ("5 furlongs", Kind::Length, "write mm, cm, m or in"),
        ("", Kind::Torque, "84 in-lb"),
        ("9.91E37", Kind::Angle, "not a reading"),
        ("75'", Kind::Angle, "1°15'"),
        ("1000 °F", Kind::Temperature, "temperature goes from -60 °C to 80 °C"),
    ] {
        let message = typed(text, kind).expect_err(text).to_string();
        assert!(message.contains(says), "{text:?}: {message}");
    }
    assert!(typed_any("30\"").unwrap_err().to_string().contains("inches or seconds"));
}
