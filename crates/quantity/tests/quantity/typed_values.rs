//! What people type, compared with published conversions and worked cases.

use quantity::{Kind, Typed, Unit, typed, typed_any, typed_in, unit_named};

#[expect(clippy::panic, reason = "a value refused ends the test")]
fn read(text: &str, kind: Kind) -> Typed {
    typed(text, kind).unwrap_or_else(|e| panic!("{text:?} at {}: {e}", e.at))
}

/// Checks value and step in the base unit, to a few units in the last place.
fn check(kind: Kind, rows: &[(&str, f64, f64, Unit)]) {
    for &(text, value, resolution, unit) in rows {
        let got = read(text, kind);
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-12 * b.abs().max(1e-9);
        assert!(close(got.amount.base(), value), "{text:?}: {} is not {value}", got.amount.base());
        assert!(close(got.resolution, resolution), "{text:?}: step {} is not {resolution}", got.resolution);
        assert_eq!(got.unit, unit, "{text:?}");
        assert_eq!(got.amount.kind(), kind, "{text:?}");
    }
}

#[test]
fn angles() {
    let minute = 1.0 / 60.0;
    let second = 1.0 / 3600.0;
    check(
        Kind::Angle,
        &[
            ("0.35", 0.35, 0.01, Unit::Degree),
            ("+0.35", 0.35, 0.01, Unit::Degree),
            ("-0.35", -0.35, 0.01, Unit::Degree),
            ("\u{2212}0.35", -0.35, 0.01, Unit::Degree),
            ("- 0.35", -0.35, 0.01, Unit::Degree),
            ("  0.350\t", 0.35, 0.001, Unit::Degree),
            (".5", 0.5, 0.1, Unit::Degree),
            ("2.", 2.0, 1.0, Unit::Degree),
            ("2", 2.0, 1.0, Unit::Degree),
            ("0.35 deg", 0.35, 0.01, Unit::Degree),
            ("0.35Degrees", 0.35, 0.01, Unit::Degree),
            ("0.35°", 0.35, 0.01, Unit::Degree),
            ("0.35\u{a0}°", 0.35, 0.01, Unit::Degree),
            ("0°21'", 0.35, minute, Unit::ArcMinute),
            ("0\u{b0}21\u{2032}", 0.35, minute, Unit::ArcMinute),
            ("0°21\u{2019}", 0.35, minute, Unit::ArcMinute),
            ("-0°21'", -0.35, minute, Unit::ArcMinute),
            ("-21'30\"", -21.5 / 60.0, second, Unit::ArcSecond),
            ("-21\u{2032}30\u{2033}", -21.5 / 60.0, second, Unit::ArcSecond),
            ("0° 21' 30\"", 21.5 / 60.0, second, Unit::ArcSecond),
            ("0°21'30''", 21.5 / 60.0, second, Unit::ArcSecond),
            ("0°21'30.5\"", (21.0 * 60.0 + 30.5) / 3600.0, 0.1 * second, Unit::ArcSecond),
            ("0°21.5'", 21.5 / 60.0, 0.1 * minute, Unit::ArcMinute),
            ("21.5'", 21.5 / 60.0, 0.1 * minute, Unit::ArcMinute),
            ("30\"", 30.0 / 3600.0, second, Unit::ArcSecond),
            ("0d21m", 0.35, minute, Unit::ArcMinute),
            ("0d21m30s", 21.5 / 60.0, second, Unit::ArcSecond),
            ("1 deg 35 min", 95.0 / 60.0, minute, Unit::ArcMinute),
            ("90 arcmin", 1.5, minute, Unit::ArcMinute),
            ("90 arcsec", 0.025, second, Unit::ArcSecond),
            ("10 mrad", 0.572_957_795_130_823_2, 0.057_295_779_513_082_32, Unit::Milliradian),
            // NRf responses of IEEE 488.2 (8.7.2, 8.7.3): NR1, NR2, NR3.
            ("+146", 146.0, 1.0, Unit::Degree),
            ("-0.123", -0.123, 0.001, Unit::Degree),
            ("+1.0E-2", 0.01, 0.001, Unit::Degree),
            ("-2.3e+1", -23.0, 1.0, Unit::Degree),
        ],
    );
}

/// Degrees, minutes and seconds are divided once, so the result is the double nearest to the true value.
#[test]
fn sexagesimal_is_correctly_rounded() {
    assert_eq!(read("0°21'", Kind::Angle).amount.base(), 0.35);
    assert_eq!(read("1°15'", Kind::Angle).amount.base(), 1.25);
}

/// Arc tangents computed to ten digits: 1 mm/m is 0.0572957604° and 0.1° is 1.745331 mm/m.
#[test]
fn slopes() {
    let near = |text: &str, degrees: f64, tolerance: f64| {
        let got = read(text, Kind::Angle);
        assert!((got.amount.base() - degrees).abs() < tolerance, "{text}: {:?}", got.amount);
        got
    };
    assert_eq!(near("1 mm/m", 0.057_295_760_4, 1e-10).unit, Unit::MillimetrePerMetre);
    near("0.02 mm/m", 4.1253 / 3600.0, 0.00005 / 3600.0);
    near("1.745331 mm/m", 0.1, 1e-7);
    near("17.455065 mm/m", 1.0, 1e-7);
    near("0.872665 mm/m", 0.05, 1e-7);
    let step = near("6.1 mm/m", 0.349_499_920_1, 1e-10).resolution;
    assert!((step - 0.005_729).abs() < 1e-6, "a tenth of a millimetre per metre: {step}");

    // 1:164 is the slope 0.0060976; a step of one in the 164 is 1/164².
    let ratio = near("1:164", (1.0_f64 / 164.0).atan().to_degrees(), 1e-12);
    assert_eq!(ratio.unit, Unit::Ratio);
    let step = (1.0_f64 / (164.0 * 164.0)).to_degrees();
    assert!((ratio.resolution / step - 1.0).abs() < 1e-4, "{} {step}", ratio.resolution);
    near("-1:164", -(1.0_f64 / 164.0).atan().to_degrees(), 1e-12);
    near("1 : 57.3", 0.999_8, 1e-4);
    near("1:1", 45.0, 1e-12);
}

/// Published settings of a 5 in sine bar: 2.5000 in is 30°, 2.270 in 27°, 1.545 in 18° (half of 0.001 in on the bar is
/// 0.006°); those of a 100 mm bar are computed.
#[test]
fn sine_bar_settings() {
    let angle = |block: &str, bar: &str| {
        let length = |t| read(t, Kind::Length).amount.base();
        (length(block) / length(bar)).asin().to_degrees()
    };
    assert!((angle("2.5000 in", "5 in") - 30.0).abs() < 1e-12);
    assert!((angle("2.270 in", "5 in") - 27.0).abs() < 0.0065);
    assert!((angle("1.545 in", "5 in") - 18.0).abs() < 0.006);
    assert!((angle("17.3648177667 mm", "10 cm") - 10.0).abs() < 1e-9);
    assert!((angle("4.3619387365", "0.1 m") - 2.5).abs() < 1e-9);
}

#[test]
fn lengths() {
    check(
        Kind::Length,
        &[
            ("3.2", 3.2, 0.1, Unit::Millimetre),
            ("3.2 mm", 3.2, 0.1, Unit::Millimetre),
            ("-0.05mm", -0.05, 0.01, Unit::Millimetre),
            ("1.25 m", 1250.0, 10.0, Unit::Metre),
            ("12.5 cm", 125.0, 1.0, Unit::Centimetre),
            ("0.126 in", 3.2004, 0.0254, Unit::Inch),
            ("0.126\"", 3.2004, 0.0254, Unit::Inch),
            ("0.126\u{2033}", 3.2004, 0.0254, Unit::Inch),
            ("5/64 in", 1.984_375, 25.4 / 64.0, Unit::Inch),
            ("-5/64\"", -1.984_375, 25.4 / 64.0, Unit::Inch),
            ("1 3/8 in", 34.925, 25.4 / 8.0, Unit::Inch),
            ("1-3/8 in", 34.925, 25.4 / 8.0, Unit::Inch),
            ("1-3/8\"", 34.925, 25.4 / 8.0, Unit::Inch),
            ("9/8 inch", 28.575, 25.4 / 8.0, Unit::Inch),
            ("100 m", 100_000.0, 1000.0, Unit::Metre),
        ],
    );
}

/// FAA AC 43.13-1B table 7-1: a 1/4-28 tension nut takes 50 to 70 in-lb; by the definitions of inch and pound-force
/// that is 5.6492 to 7.9089 N·m.
#[test]
fn torques() {
    let inch_pound = 0.0254 * 4.448_221_615_260_5;
    check(
        Kind::Torque,
        &[
            ("60 in-lb", 60.0 * inch_pound, inch_pound, Unit::InchPound),
            ("60 lbf·in", 60.0 * inch_pound, inch_pound, Unit::InchPound),
            ("60 in lbs", 60.0 * inch_pound, inch_pound, Unit::InchPound),
            ("60 IN-LB", 60.0 * inch_pound, inch_pound, Unit::InchPound),
            ("5 ft-lb", 60.0 * inch_pound, 12.0 * inch_pound, Unit::FootPound),
            ("5 lbf\u{22c5}ft", 60.0 * inch_pound, 12.0 * inch_pound, Unit::FootPound),
            ("9.5", 9.5, 0.1, Unit::NewtonMetre),
            ("9.5 N·m", 9.5, 0.1, Unit::NewtonMetre),
            ("9.5 Nm", 9.5, 0.1, Unit::NewtonMetre),
            ("9.5 N m", 9.5, 0.1, Unit::NewtonMetre),
        ],
    );
    let torque = |t| read(t, Kind::Torque).amount.base();
    assert!((torque("50 in-lb") - 5.6492).abs() < 5e-5);
    assert!((torque("70 in-lb") - 7.9089).abs() < 5e-5);
}

/// By the definitions of pound-force and kilogram-force (standard acceleration 9.806 65 m/s², pound 0.453 592 37 kg).
#[test]
fn forces() {
    let pound = 0.453_592_37 * 9.806_65;
    check(
        Kind::Force,
        &[
            ("310", 310.0, 1.0, Unit::Newton),
            ("310 N", 310.0, 1.0, Unit::Newton),
            ("70 lbf", 70.0 * pound, pound, Unit::PoundForce),
            ("70 lbs", 70.0 * pound, pound, Unit::PoundForce),
            ("32 kgf", 32.0 * 9.806_65, 9.806_65, Unit::KilogramForce),
        ],
    );
}

#[test]
fn temperatures() {
    check(
        Kind::Temperature,
        &[
            ("21", 21.0, 1.0, Unit::Celsius),
            ("21 °C", 21.0, 1.0, Unit::Celsius),
            ("-5.5C", -5.5, 0.1, Unit::Celsius),
            ("68 °F", 20.0, 1.0 / 1.8, Unit::Fahrenheit),
            ("32F", 0.0, 1.0 / 1.8, Unit::Fahrenheit),
        ],
    );
    assert!((read("70 °F", Kind::Temperature).amount.base() - 21.111_111_111).abs() < 1e-9);
}

/// The wing twist check of NAVEDTRA 14315 and 14018: the limits are the fuselage's reading -0°20' and +0°40'; worked
/// there for 1°35' as 1°15' to 2°15'. The two wings agree within 0°12'.
#[test]
fn naval_wing_twist_limits() {
    let angle = |t| read(t, Kind::Angle).amount.base();
    assert!((angle("1°35'") + angle("-0°20'") - angle("1°15'")).abs() < 1e-12);
    assert!((angle("1°35'") + angle("+0°40'") - angle("2°15'")).abs() < 1e-12);
    assert_eq!((angle("1°15'"), angle("2°15'"), angle("0°12'")), (1.25, 2.25, 0.2));
}

/// Barber, The Aeroplane Speaks (1917): diagonal measurements within 1/16 in.
#[test]
fn a_sixteenth() {
    assert_eq!(read("1/16 in", Kind::Length).amount.base(), 1.5875);
}

#[test]
fn any_quantity_by_its_unit() {
    for (text, kind) in [
        ("3.2 mm", Kind::Length),
        ("0.35°", Kind::Angle),
        ("21'30\"", Kind::Angle),
        ("1:164", Kind::Angle),
        ("5/64 in", Kind::Length),
        ("60 in-lb", Kind::Torque),
        ("70 °F", Kind::Temperature),
    ] {
        assert_eq!(typed_any(text).unwrap().amount.kind(), kind, "{text}");
    }
}

#[test]
fn a_bare_number_in_the_unit_of_its_column() {
    assert_eq!(typed_in("1.5", Unit::Inch).unwrap().amount.base(), 1.5 * 25.4);
    for (text, inches) in [("27/32", 27.0 / 32.0), ("5 27/32", 5.0 + 27.0 / 32.0), ("-1-3/8", -1.375)] {
        let value = typed_in(text, Unit::Inch).unwrap();
        assert_eq!((value.amount.base(), value.unit), (inches * 25.4, Unit::Inch), "{text}");
        assert!(
            typed_in(text, Unit::Millimetre).is_err(),
            "{text} without its unit, where a bare number is in mm"
        );
    }
    assert_eq!(typed_in("2", Unit::Metre).unwrap().amount.base(), 2000.0);
    assert_eq!(typed_in("2 mm", Unit::Metre).unwrap().amount.base(), 2.0, "a unit of its own comes first");
    assert!(typed_in("2 deg", Unit::Metre).is_err());
}

#[test]
fn every_symbol_is_read_back() {
    use Unit::*;
    for unit in [
        Degree,
        ArcMinute,
        ArcSecond,
        Milliradian,
        MillimetrePerMetre,
        Millimetre,
        Centimetre,
        Metre,
        Inch,
        NewtonMetre,
        InchPound,
        FootPound,
        Celsius,
        Fahrenheit,
    ] {
        assert_eq!(unit_named(unit.symbol()), Some(unit));
        assert_eq!(typed(&format!("1 {}", unit.symbol()), unit.kind()).unwrap().unit, unit);
    }
    assert_eq!(unit_named(" mm "), Some(Millimetre));
    for none in ["", "furlong", "1:n", "mm2", "nm", "MM"] {
        assert_eq!(unit_named(none), None, "{none}");
    }
}
