//! Decimal numbers as instruments send them.

use instrument::{Decimal, Leading};

fn whole(text: &str) -> Option<(i64, i8)> {
    Decimal::whole(text.as_bytes()).map(|d| (d.mantissa, d.exponent))
}

/// Numeric responses of IEEE 488.2, 8.7.2 and 8.7.3, and the general form of 7.7.2.1, as quoted in makers'
/// programming guides.
#[test]
fn numbers_of_ieee_488() {
    for (text, mantissa, exponent) in [
        ("146", 146, 0),
        ("+146", 146, 0),
        ("-12345", -12345, 0),
        ("12.3", 123, -1),
        ("+1.2345", 12345, -4),
        ("-0.123", -123, -3),
        ("+1.0E-2", 10, -3),
        ("-2.3E+4", -23, 3),
        ("0.00", 0, -2),
    ] {
        assert_eq!(whole(text), Some((mantissa, exponent)), "{text}");
    }
}

/// In SCPI, 9.91E37 means "not a number" and 9.9E37 infinity.
#[test]
fn the_codes_for_no_number_are_refused() {
    for text in [
        "9.91E37",
        "+9.9E37",
        "-9.9E37",
        "",
        "-",
        "+",
        ".",
        "1.",
        ".5",
        "1e",
        "1e+",
        "--1",
        "1,5",
        "1 ",
        " 1",
        "nan",
        "inf",
        "0x10",
        "1e1234",
        "1234567890123456789",
        "0.1234567890123456789",
        "1.2.3",
    ] {
        assert_eq!(whole(text), None, "{text}");
    }
}

/// A number of up to eight bytes after its sign is parsed in one step, a shorter text digit by digit: every text of
/// up to five of these characters must give the same number alone and with something after it.
#[test]
fn the_fast_and_the_slow_path_agree() {
    let signs = b"09.-+e ,";
    for length in 1..=5_u32 {
        for pick in 0..signs.len().pow(length) {
            let mut text = *b",,,,,,,,,,,,,,";
            let mut left = pick;
            for slot in text.iter_mut().take(length as usize) {
                *slot = signs[left % signs.len()];
                left /= signs.len();
            }
            let alone = Decimal::leading(&text[..length as usize]);
            assert_eq!(Decimal::leading(&text), alone, "{text:?}");
        }
    }
    for (text, mantissa, exponent, length) in [
        ("-123.456,", -123_456, -3, 8),
        ("+1234567,x", 1_234_567, 0, 8),
        ("7,12345678", 7, 0, 1),
        ("-0.00,0000", 0, -2, 5),
    ] {
        let read = Decimal::leading(text.as_bytes());
        let number = Decimal { mantissa, exponent };
        assert_eq!(read, Some(Leading { number, length }), "{text}");
    }
}

#[test]
fn numbers_convert_to_double_and_back_to_text() {
    for (text, double) in
        [("0.35", 0.35), ("-2.50", -2.5), ("0.1", 0.1), ("123456.789", 123_456.789), ("7", 7.0)]
    {
        let decimal = Decimal::whole(text.as_bytes()).unwrap();
        assert_eq!(decimal.to_f64().to_bits(), f64::to_bits(double), "{text}");
        assert_eq!(format!("{decimal}"), text);
    }
    assert_eq!(format!("{}", Decimal { mantissa: -5, exponent: -3 }), "-0.005");
    assert_eq!(format!("{}", Decimal { mantissa: 5, exponent: 3 }), "5e3");
}

#[test]
fn products_are_exact_or_refused() {
    let of = |mantissa, exponent| Decimal { mantissa, exponent };
    assert_eq!(of(-1234, 0).times(of(5, -3)), Some(of(-6170, -3)));
    assert_eq!(of(i64::MAX, 0).times(of(2, 0)), None);
    assert_eq!(of(1, -18).times(of(1, -1)), None);
}
