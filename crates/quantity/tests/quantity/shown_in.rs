//! Values in the units a person asks for.

use proptest::prelude::*;
use quantity::shown::{Scale, fraction};
use quantity::{UNIT_WORDS, Unit, UnitWord, Units, typed, typed_in};

fn in_unit(unit: Unit) -> Scale {
    Units::INSIDE.with(unit).scale(unit.kind())
}

#[test]
fn minutes_carry_into_degrees() {
    let minutes = in_unit(Unit::ArcMinute);
    for (degrees, decimals, want) in [
        (59.96 / 60.0, 1, "+1°00.0'"),
        (-59.96 / 60.0, 1, "-1°00.0'"),
        (59.94 / 60.0, 1, "+0°59.9'"),
        (119.999 / 60.0, 0, "+2°00'"),
        (-0.36, 1, "-0°21.6'"),
        (-0.004, 0, "0°00'"),
        (0.0, 1, "0°00.0'"),
        (2.05, 1, "+2°03.0'"),
        (-2.05, 0, "-2°03'"),
        (359.999_9, 1, "+360°00.0'"),
        (f64::NAN, 1, "unknown"),
    ] {
        assert_eq!(minutes.signed(degrees, decimals), want, "{degrees}");
    }
    assert_eq!(minutes.limits(Some(-0.25), Some(0.25)).as_deref(), Some("±0°15'"));
    assert_eq!(minutes.limits_with(Some(-0.2), Some(0.4)).as_deref(), Some("-0°12' to +0°24'"));
    // A ± below 60' has no degrees, and none is shown as 60'.
    for (half, want) in [(0.07, "±4'"), (0.02, "±1.2'"), (0.9999, "±1°00'"), (1.2, "±1°12'"), (0.0, "±?")]
    {
        assert_eq!(minutes.with_half(0.0, half).half(), want, "{half}");
    }
}

/// The wing of the terminal examples: 0.36° is 21.6', 0.07° is 4.2'.
#[test]
fn a_value_has_the_digits_of_its_uncertainty_in_any_unit() {
    for (unit, value, half, limit, want) in [
        (Unit::Degree, -0.36, 0.07, 0.25, "-0.36 ±0.07°"),
        (Unit::ArcMinute, -0.36, 0.07, 0.25, "-0°22' ±4'"),
        (Unit::ArcMinute, -0.247, 0.07, 0.25, "-0°14.8' ±4.2'"),
        (Unit::ArcMinute, 0.113, 0.014, 9.0, "+0°06.8' ±0.8'"),
        (Unit::Inch, 4.06, 0.12, 9.0, "+0.160 ±0.005 in"),
        (Unit::Inch, 25.4, 2.54, 99.0, "+1.00 ±0.10 in"),
        (Unit::InchPound, 8.1, 0.27, 99.0, "+71.7 ±2.4 in-lb"),
        (Unit::FootPound, 8.1, 0.27, 99.0, "+5.97 ±0.20 ft-lb"),
        (Unit::PoundForce, 311.4, 8.0, 999.0, "+70.0 ±1.8 lbf"),
        (Unit::Fahrenheit, 20.0, 1.0, 99.0, "+68.0 ±1.8 °F"),
    ] {
        let shown = in_unit(unit).with_half(value, half).against([Some(-limit), Some(limit)]);
        assert_eq!(shown.signed_with(), want, "{unit:?}");
    }
    assert_eq!(in_unit(Unit::Inch).limits_with(None, Some(1.2)).as_deref(), Some("at most 0.04724 in"));
    assert_eq!(in_unit(Unit::Inch).limits_with(None, Some(0.508)).as_deref(), Some("at most 0.02 in"));
    assert_eq!(in_unit(Unit::Inch).fixed_with(3.2, 2), "0.126 in");
    assert_eq!(
        in_unit(Unit::InchPound).limits_with(Some(8.0), Some(11.0)).as_deref(),
        Some("70.81 to 97.36 in-lb")
    );
    assert_eq!(in_unit(Unit::ArcMinute).rough_with(0.0712), "4.3'");
    assert_eq!(in_unit(Unit::ArcMinute).rough_with(1.2), "1°12'");
}

#[test]
fn an_inch_scale_has_fractions() {
    for (number, step, want) in [
        (14.156_25, 1.0 / 32.0, Some("14 5/32")),
        (-0.375, 0.125, Some("-3/8")),
        (0.5, 1.0 / 64.0, Some("1/2")),
        (3.0, 1.0 / 16.0, Some("3")),
        (0.0, 1.0 / 16.0, Some("0")),
        (14.15, 1.0 / 32.0, None),
        (0.126, 0.001, None),
        (0.25, 0.05, None),
        (f64::NAN, 0.125, None),
        (1.0, 0.0, None),
    ] {
        assert_eq!(fraction(number, step).as_deref(), want, "{number}");
    }
}

#[test]
fn known_unit_words_are_read_and_others_refused() {
    for UnitWord { word, unit } in UNIT_WORDS {
        assert_eq!(Units::named(word), Some(unit), "{word}");
        assert_eq!(Units::INSIDE.with(unit).of(unit.kind()), unit);
    }
    for (word, unit) in [("dms", Unit::ArcMinute), ("DEG-MIN", Unit::ArcMinute), ("°F", Unit::Fahrenheit)] {
        assert_eq!(Units::named(word), Some(unit));
    }
    for word in ["", "m", "cm", "mm/m", "arcmin", "arcsec", "1:n", "furlong"] {
        assert_eq!(Units::named(word), None, "{word}");
    }
}

proptest! {
    /// The shown text reads back as the same number, to half of its last digit.
    #[test]
    fn shown_values_read_back(base in -60.0..60.0_f64, decimals in 0..6_usize, which in 0..UNIT_WORDS.len()) {
        let unit = UNIT_WORDS[which].unit;
        let scale = in_unit(unit);
        let text = scale.with(&scale.signed(base, decimals));
        let back = if unit == Unit::ArcMinute { typed(&text, unit.kind()) } else { typed_in(&text, unit) };
        let back = back.unwrap().amount.base();
        let half = 0.5 * 10_f64.powi(-i32::try_from(decimals).unwrap()) + 1e-9;
        prop_assert!((scale.number(back) - scale.number(base)).abs() <= half, "{base} {text} {back}");
        prop_assert!(unit != Unit::ArcMinute || !text.contains("°60"), "{text}");
    }
}
