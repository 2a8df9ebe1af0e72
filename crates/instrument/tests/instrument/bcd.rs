//! Frames of thirteen nibbles.

use instrument::{Axis, Decimal, Sample, bcd_frame};
use quantity::Unit;

#[test]
fn each_nibble_of_the_table_is_read() {
    for (line, mantissa, exponent, unit) in [
        ("FFFF001234520", 12_345, -2, Unit::Millimetre),
        ("FFFF801234520", -12_345, -2, Unit::Millimetre),
        ("FFFF003125041", 31_250, -4, Unit::Inch),
        ("FFFF000000000", 0, 0, Unit::Millimetre),
        ("FFFF899999951", -999_999, -5, Unit::Inch),
        ("ffff801234520", -12_345, -2, Unit::Millimetre),
        ("FFFF 8 012345 2 0", -12_345, -2, Unit::Millimetre),
        ("\tff ff 80 12 34 52 0 ", -12_345, -2, Unit::Millimetre),
    ] {
        let want = Sample::bare(Axis::Length, Decimal { mantissa, exponent }, unit);
        assert_eq!(bcd_frame(line.as_bytes()), Some(want), "{line}");
    }
}

#[test]
fn every_nibble_outside_its_range_is_refused() {
    let good = *b"FFFF001234520";
    let allowed: [&[u8]; 13] = [
        b"Ff",
        b"Ff",
        b"Ff",
        b"Ff",
        b"08",
        b"0123456789",
        b"0123456789",
        b"0123456789",
        b"0123456789",
        b"0123456789",
        b"0123456789",
        b"012345",
        b"01",
    ];
    for (at, allowed) in allowed.iter().enumerate() {
        for byte in 0..=255u8 {
            let mut line = good;
            line[at] = byte;
            assert_eq!(bcd_frame(&line).is_some(), allowed.contains(&byte), "{byte} at {at}");
        }
    }
    assert_eq!(bcd_frame(&good[..12]), None);
    assert_eq!(bcd_frame(b"FFFF0012345200"), None);
    assert_eq!(bcd_frame(b"FFFF 0012345 2"), None);
    assert_eq!(bcd_frame(b""), None);
}
