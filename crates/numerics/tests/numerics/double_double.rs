//! Double-double arithmetic and decimal reading, against exact integers.

use numerics::{Dd, NotADecimal};
use proptest::prelude::*;

/// The low half: the value less its nearest `f64`.
fn low(x: Dd) -> f64 {
    (x - Dd::new(x.to_f64())).to_f64()
}

/// The value as mantissa times 2^-60 in exact integers (inputs are chosen so that it fits).
fn fixed(x: Dd) -> i128 {
    (x.to_f64() * 2f64.powi(60)) as i128 + (low(x) * 2f64.powi(60)) as i128
}

#[test]
fn tenth_keeps_thirty_two_digits() {
    let tenth = Dd::parse("0.1").unwrap();
    assert_eq!(tenth.to_f64(), 0.1);
    // 0.1 - f64(0.1) = -5.55111512312578270211815834045410156e-18 exactly; its nearest f64 is the low half.
    assert_eq!(low(tenth), -5.551_115_123_125_783e-18);
    let sum: Dd = std::iter::repeat_n(tenth, 10).sum();
    assert!((sum - Dd::ONE).abs().to_f64() < 1e-31);
}

#[test]
fn reads_what_people_write() {
    for (text, hi) in [
        ("0", 0.0),
        ("-0.0", 0.0),
        (" 12 ", 12.0),
        ("+3.5", 3.5),
        (".5", 0.5),
        ("5.", 5.0),
        ("1.5e-3", 0.0015),
        ("1E5", 1e5),
        ("1e-2000000000", 0.0),
        ("0e2000000000", 0.0),
        ("1e300", 1e300),
        ("1e-300", 1e-300),
        ("123456789012345678901234567890", 1.234_567_890_123_456_8e29),
        ("0.000000000000000000000000000001234", 1.234e-30),
    ] {
        assert_eq!(Dd::parse(text).unwrap().to_f64(), hi, "{text}");
    }
    // Integers up to 32 digits are exact: what is left over is 2^70 - 1 = hi + lo.
    let big = Dd::parse("1180591620717411303423").unwrap();
    assert_eq!((big.to_f64(), low(big)), (2f64.powi(70), -1.0));
    for text in ["", "-", ".", "e5", "1e", "0x10", "1_000", "inf", "nan", "1,5", "1.2.3", "1e999", "--1"] {
        assert_eq!(Dd::parse(text), Err(NotADecimal { text: text.to_owned() }), "{text}");
    }
    assert!(Dd::parse("1,5").unwrap_err().to_string().contains("point"));
}

#[test]
fn roots_and_quotients() {
    let two = Dd::new(2.0);
    // sqrt 2 = 1.4142135623730950488016887242096980785696718753769...
    let known = Dd::parse("1.41421356237309504880168872420969807857").unwrap();
    assert!((two.sqrt() - known).abs().to_f64() < 3e-32);
    assert!((two.sqrt().square() - two).abs().to_f64() < 1e-31);
    assert_eq!(Dd::ONE / Dd::new(3.0), Dd::parse("0.33333333333333333333333333333333333333").unwrap());
    assert_eq!(Dd::ZERO.sqrt(), Dd::ZERO);
    assert!(Dd::new(-1.0).sqrt().to_f64().is_nan());
}

proptest! {
    #![proptest_config(crate::common::cases(2000))]
    #[test]
    fn sums_and_products_against_integers(a in -1_i64 << 33..1 << 33, b in -1_i64 << 33..1 << 33, s in 0_u32..30, t in 0_u32..30) {
        let value = |n: i64, shift: u32| Dd::new(n as f64 / f64::from(1_u32 << shift));
        let (x, y) = (value(a, s), value(b, t));
        let (p, q) = (i128::from(a) << (60 - s), i128::from(b) << (60 - t));
        prop_assert_eq!(fixed(x + y), p + q);
        prop_assert_eq!(fixed(x - y), p - q);
        prop_assert_eq!(fixed(x * y), (i128::from(a) * i128::from(b)) << (60 - s - t));
    }

    /// Both halves of a decimal are the nearest possible: the short path (integers) and the long path (digit by
    /// digit) agree, and the error is below half a unit of the low half.
    #[test]
    fn both_ways_of_reading_a_decimal_agree(whole in 0_u64..1_000_000_000, fraction in 0_u64..1_000_000_000_000, negative: bool, scale in -30_i32..30) {
        let sign = if negative { "-" } else { "" };
        let short = Dd::parse(&format!("{sign}{whole}.{fraction:012}")).unwrap();
        let long = Dd::parse(&format!("{sign}{whole}.{fraction:012}00000000000000")).unwrap();
        prop_assert_eq!(short, long);
        let exact = Dd::new(whole as f64) + Dd::new(fraction as f64) / Dd::new(1e12);
        let exact = if negative { -exact } else { exact };
        prop_assert!((short - exact).abs().to_f64() <= 1e-31 * exact.abs().to_f64());
        let scaled = Dd::parse(&format!("{sign}{whole}.{fraction:012}e{scale}")).unwrap();
        let power = Dd::parse(&format!("1e{}", scale.abs())).unwrap();
        let by_power = if scale < 0 { exact / power } else { exact * power };
        prop_assert!((scaled - by_power).abs().to_f64() <= 2e-31 * by_power.abs().to_f64());
    }

    #[test]
    fn division_undoes_multiplication_and_the_root_undoes_squaring(a in 0.001..1e6_f64, b in 0.001..1e6_f64) {
        let (x, y) = (Dd::new(a).sqrt(), Dd::new(b).sqrt());
        prop_assert!((x * y / y - x).abs().to_f64() <= 1e-31 * x.to_f64());
        prop_assert!((x.square() - Dd::new(a)).abs().to_f64() <= 1e-31 * a);
    }
}
