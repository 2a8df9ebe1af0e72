//! The 13-nibble frames that many calipers send, as a bridging board passes them on: one line of thirteen hexadecimal
//! digits for each measurement, upper or lower case, with or without blanks in between. Common practice, no source.
//! (A caliper with 24-bit frames needs a board that decodes them, such as the example sketch: six digits of a line
//! cut short could not be told from a frame.)
//!
//! | nibble | is |
//! |---|---|
//! | 1 to 4 | `F` each: the beginning |
//! | 5 | the sign: `0` plus, `8` minus |
//! | 6 to 11 | six decimal digits, the highest first |
//! | 12 | how many of them are decimals, `0` to `5` |
//! | 13 | the unit: `0` millimetres, `1` inches |
//!
//! `FFFF801234520` reads: minus, 012345, two decimals, millimetres, so -123.45 mm. It has no checksum: only the
//! beginning, the fixed length and the ranges can be checked.

use crate::lines::{Lines, Marks};
use crate::{Axis, Decimal, Fault, Sample};
use quantity::Unit;

/// Reads 13-nibble frames.
#[derive(Clone, Debug)]
pub struct Bcd {
    lines: Lines,
}

impl Bcd {
    /// A decoder that has received nothing yet.
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

const NIBBLES: usize = 13;

/// Reads one line of thirteen digits, without its end: upper or lower case, with spaces and tabs anywhere.
#[must_use]
pub fn bcd_frame(line: &[u8]) -> Option<Sample> {
    let mut nibbles = [0; NIBBLES];
    let mut count = 0;
    for byte in line.iter().filter(|byte| !matches!(byte, b' ' | b'\t')) {
        let digit = char::from(*byte).to_digit(16)?;
        *nibbles.get_mut(count)? = digit;
        count += 1;
    }
    let [15, 15, 15, 15, sign, digits @ .., decimals, unit] = nibbles else { return None };
    if count != NIBBLES || digits.iter().any(|digit| *digit > 9) {
        return None;
    }
    let size = digits.iter().fold(0_i64, |size, digit| size * 10 + i64::from(*digit));
    let mantissa = match sign {
        0 => size,
        8 => -size,
        _ => return None,
    };
    let exponent = -i8::try_from(decimals).ok().filter(|decimals| *decimals <= 5)?;
    let unit = match unit {
        0 => Unit::Millimetre,
        1 => Unit::Inch,
        _ => return None,
    };
    Some(Sample::bare(Axis::Length, Decimal { mantissa, exponent }, unit))
}
