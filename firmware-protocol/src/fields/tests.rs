//! Tests of `fields`.

use super::*;

#[test]
fn numbers_have_one_spelling() {
    for (text, want) in [
        ("0", Some((0, 1))),
        ("7,", Some((7, 1))),
        ("12345678", Some((12_345_678, 8))),
        ("99999999x", Some((99_999_999, 8))),
        ("123456789,abc", Some((123_456_789, 9))),
        ("4294967295", Some((u32::MAX, 10))),
        ("4294967296", None),
        ("42949672950", None),
        ("00", None),
        ("007,abcdefgh", None),
        ("", None),
        ("-1", None),
        (",1234567", None),
        ("/1234567", None),
        (":1234567", None),
    ] {
        assert_eq!(leading_number(text.as_bytes()), want, "{text}");
    }
}

#[test]
fn eight_at_once_agree_with_one_by_one() {
    // Every byte value after every count of digits.
    for count in 0..8 {
        for byte in 0..=255u8 {
            let mut bytes = *b"98765432";
            bytes[count] = byte;
            let slow = one_by_one(&bytes, 0, 0).expect("eight digits fit");
            let fast = eight_at_once(bytes);
            assert_eq!(slow, fast, "{bytes:?}");
        }
    }
}

#[test]
fn the_last_field_is_the_last() {
    let mut fields = Fields::new(b"a,,12,");
    assert_eq!(fields.field(), Some(&b"a"[..]));
    assert_eq!(fields.field(), Some(&b""[..]));
    assert_eq!(fields.number(), Some(12));
    assert_eq!(fields.field(), Some(&b""[..]));
    assert_eq!(fields.field(), None);
}
