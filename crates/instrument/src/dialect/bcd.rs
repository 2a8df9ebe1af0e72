//! The 13-nibble frames that many calipers send, as a bridging board passes them on: one line of
//! thirteen hexadecimal digits for each measurement. Common practice, no source.
//!
//! | nibble | is |
//! |---|---|
//! | 1 to 4 | `F` each: the beginning |
//! | 5 | the sign: `0` plus, `8` minus |
//! | 6 to 11 | six decimal digits, the highest first |
//! | 12 | how many of them are decimals, `0` to `5` |
//! | 13 | the unit: `0` millimetres, `1` inches |
//!
//! `FFFF801234520` reads: minus, 012345, two decimals, millimetres, so -123.45 mm. There
//! is no check in it: the beginning, the fixed length and the ranges are all there is to hold on to.

use crate::lines::{Lines, Marks};
use crate::{Axis, Decimal, Fault, Sample};
use nom::branch::alt;
use nom::bytes::complete::tag;
use nom::character::complete::{char, one_of};
use nom::combinator::{all_consuming, value};
use nom::multi::fold_many_m_n;
use nom::{IResult, Parser};
use quantity::Unit;

/// Reads 13-nibble frames.
#[derive(Clone, Debug)]
pub struct Bcd {
    lines: Lines,
}

impl Bcd {
    /// One that has received nothing yet.
    #[must_use]
    pub(crate) const fn new() -> Self {
        Self { lines: Lines::new(Marks::LINES) }
    }

    /// See [`Decoder::received`](crate::Decoder::received).
    pub(crate) fn received(&mut self, bytes: &[u8]) -> usize {
        self.lines.received(bytes)
    }

    /// See [`Decoder::forget`](crate::Decoder::forget).
    pub(crate) const fn forget(&mut self) {
        self.lines.forget();
    }

    /// See [`Decoder::silence`](crate::Decoder::silence).
    pub(crate) const fn silence(&mut self) {
        self.lines.silence();
    }

    /// See [`Decoder::next`](crate::Decoder::next).
    #[inline]
    pub(crate) fn next(&mut self) -> Option<Result<Sample, Fault>> {
        Some(match self.lines.next()? {
            Ok(line) => bcd_frame(self.lines.get(line)).ok_or(Fault::Form),
            Err(fault) => Err(fault),
        })
    }
}

/// Reads one line of thirteen digits, without its end.
#[must_use]
pub fn bcd_frame(line: &[u8]) -> Option<Sample> {
    let (_, (minus, digits, decimals, unit)) = all_consuming(frame).parse(line).ok()?;
    let mantissa = if minus { -digits } else { digits };
    Some(Sample::bare(Axis::Length, Decimal { mantissa, exponent: -decimals }, unit))
}

fn frame(line: &[u8]) -> IResult<&[u8], (bool, i64, i8, Unit)> {
    let beginning = tag("FFFF");
    let sign = alt((value(false, char('0')), value(true, char('8'))));
    let digits =
        fold_many_m_n(6, 6, one_of("0123456789"), || 0, |number, digit| number * 10 + digit_value(digit));
    let decimals = one_of("012345").map(|digit| digit_value(digit) as i8);
    let unit = alt((value(Unit::Millimetre, char('0')), value(Unit::Inch, char('1'))));
    (beginning, sign, digits, decimals, unit)
        .map(|(_, sign, digits, decimals, unit)| (sign, digits, decimals, unit))
        .parse(line)
}

fn digit_value(digit: char) -> i64 {
    digit.to_digit(10).map_or(0, i64::from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_nibble_by_nibble() {
        for (line, mantissa, exponent, unit) in [
            ("FFFF001234520", 12_345, -2, Unit::Millimetre),
            ("FFFF801234520", -12_345, -2, Unit::Millimetre),
            ("FFFF003125041", 31_250, -4, Unit::Inch),
            ("FFFF000000000", 0, 0, Unit::Millimetre),
            ("FFFF899999951", -999_999, -5, Unit::Inch),
        ] {
            let want = Sample::bare(Axis::Length, Decimal { mantissa, exponent }, unit);
            assert_eq!(bcd_frame(line.as_bytes()), Some(want), "{line}");
        }
    }

    #[test]
    fn every_nibble_outside_its_range_is_refused() {
        let good = *b"FFFF001234520";
        let allowed: [&[u8]; 13] = [
            b"F",
            b"F",
            b"F",
            b"F",
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
    }
}
