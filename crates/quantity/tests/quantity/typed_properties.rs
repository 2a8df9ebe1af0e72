//! Properties of the grammar over random values and random texts.

use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use quantity::{Kind, Unit, typed, typed_any, typed_in};

const KINDS: [Kind; 5] = [Kind::Angle, Kind::Length, Kind::Torque, Kind::Temperature, Kind::Force];

/// The same draws on every run and machine.
fn runner(cases: u32) -> TestRunner {
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]))
}

/// Any text is read or refused: no panic, no value that is not finite or out of range, and the position of an error
/// is inside the text and on a character boundary.
fn read_or_refused(text: &str) -> Result<(), TestCaseError> {
    let all = KINDS.into_iter().map(|kind| (Some(kind), typed(text, kind)));
    for (kind, got) in all.chain([(None, typed_any(text))]) {
        match got {
            Ok(value) => {
                prop_assert!(kind.is_none_or(|k| k == value.amount.kind()));
                prop_assert_eq!(value.unit.kind(), value.amount.kind());
                prop_assert!(value.amount.base().abs() <= 100_000.0);
                prop_assert!(value.resolution > 0.0 && value.resolution.is_finite());
            }
            Err(error) => {
                prop_assert!(error.at <= text.len() && text.is_char_boundary(error.at), "{:?}", error);
                prop_assert!(!error.to_string().is_empty());
            }
        }
    }
    Ok(())
}

#[test]
fn any_text_is_read_or_refused() {
    runner(4000).run(&".{0,90}", |text| read_or_refused(&text)).unwrap();
}

/// Texts made of pieces of the grammar reach its corners better than random characters.
#[test]
fn any_jumble_of_grammar_pieces_is_read_or_refused() {
    let piece = prop::sample::select(vec![
        "0",
        "1",
        "21",
        "5/64",
        "1 3/8",
        "0.35",
        ".",
        "-",
        "+",
        "\u{2212}",
        "°",
        "'",
        "\"",
        "\u{2032}",
        "\u{2033}",
        "''",
        ":",
        "/",
        "e",
        "E-2",
        "E37",
        "9.91",
        "d",
        "m",
        "s",
        " ",
        "\u{a0}",
        "deg",
        "mm",
        "mm/m",
        "in",
        "lb",
        "-lb",
        "N·m",
        "°C",
        "F",
        "nan",
        "inf",
        "0x",
        ",",
        "9999999999",
    ]);
    let jumble = prop::collection::vec(piece, 0..8).prop_map(|pieces| pieces.concat());
    runner(8000).run(&jumble, |text| read_or_refused(&text)).unwrap();
}

/// A decimal with a unit is the same as converting that decimal, and its step is one in the last digit.
#[test]
fn decimals_round_trip() {
    let units = [
        Unit::Degree,
        Unit::ArcMinute,
        Unit::ArcSecond,
        Unit::Milliradian,
        Unit::MillimetrePerMetre,
        Unit::Millimetre,
        Unit::Centimetre,
        Unit::Metre,
        Unit::Inch,
        Unit::NewtonMetre,
        Unit::InchPound,
        Unit::FootPound,
        Unit::Newton,
        Unit::PoundForce,
        Unit::KilogramForce,
    ];
    let strategy = (-90_000_i64..=90_000, 3_usize..=6, prop::sample::select(units.to_vec()), any::<bool>());
    runner(4000)
        .run(&strategy, |(digits, decimals, unit, spaced)| {
            let value = digits as f64 / 10_f64.powi(decimals as i32);
            let space = if spaced { " " } else { "" };
            let text = format!("{value:.decimals$}{space}{}", unit.symbol());
            let got = typed(&text, unit.kind()).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
            prop_assert_eq!(got.amount.base(), unit.to_base(value), "{}", text);
            prop_assert_eq!(typed_any(&text).ok(), Some(got));
            let next = (unit.to_base(value + 10_f64.powi(-(decimals as i32))) - unit.to_base(value)).abs();
            prop_assert!((got.resolution / next - 1.0).abs() < 1e-4, "{}: {} {}", text, got.resolution, next);
            Ok(())
        })
        .unwrap();
}

/// Degrees, minutes and seconds read back as the whole number of seconds written.
#[test]
fn degrees_minutes_seconds_round_trip() {
    let strategy = (any::<bool>(), 0_u32..360, 0_u32..60, 0_u32..60);
    runner(2000)
        .run(&strategy, |(minus, d, m, s)| {
            let total = f64::from(d * 3600 + m * 60 + s) / 3600.0;
            let (sign, expected) = if minus { ("-", -total) } else { ("", total) };
            for text in [
                format!("{sign}{d}°{m}'{s}\""),
                format!("{sign}{d}d{m}m{s}s"),
                format!("{sign}{d}° {m}′ {s}″"),
            ] {
                let got =
                    typed(&text, Kind::Angle).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
                prop_assert_eq!(got.amount.base(), expected, "{}", text);
            }
            Ok(())
        })
        .unwrap();
}

/// Every fraction of an inch, alone and mixed.
#[test]
fn fractions_round_trip() {
    runner(2000)
        .run(&(0_u32..40, 0_u32..7, 1_u32..64), |(whole, power, above)| {
            let below = 1 << power;
            let part = above % below;
            let inches = f64::from(whole) + f64::from(part) / f64::from(below);
            for text in [format!("{whole} {part}/{below} in"), format!("{whole}-{part}/{below}\"")] {
                let got =
                    typed(&text, Kind::Length).map_err(|e| TestCaseError::fail(format!("{text}: {e}")))?;
                prop_assert_eq!(got.amount.base(), inches * 25.4);
                prop_assert_eq!(got.resolution, 25.4 / f64::from(below));
            }
            Ok(())
        })
        .unwrap();
}

/// A short bare number is read by a faster path and must give the same as the full grammar does with its unit.
#[test]
fn a_bare_number_reads_the_same_as_with_its_unit() {
    let units =
        [Unit::Degree, Unit::Millimetre, Unit::Inch, Unit::NewtonMetre, Unit::PoundForce, Unit::Celsius];
    let draws = ("[-+]?[0-9]{1,9}(\\.[0-9]{0,9})?", prop::sample::select(units.to_vec()));
    runner(6000)
        .run(&draws, |(text, unit)| {
            let (bare, named) = (typed_in(&text, unit), typed_in(&format!("{text} {}", unit.symbol()), unit));
            match (bare, named) {
                (Ok(bare), Ok(named)) => {
                    prop_assert_eq!(bare, named);
                    prop_assert_eq!(bare.amount.base().to_bits(), named.amount.base().to_bits());
                }
                (bare, named) => prop_assert_eq!(bare.map_err(|e| e.fault), named.map_err(|e| e.fault)),
            }
            Ok(())
        })
        .unwrap();
}
