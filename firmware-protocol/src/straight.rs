//! The fast path for a sample that is whole: no search for its end, each byte read about twice.
//!
//! Anything that is not a plain, whole and correct sample of this version is `None` here and takes the slow path,
//! which finds what is wrong with it. A test checks that the two paths give the same answers.

use crate::decode::decimal;
use crate::fields::leading_number;
use crate::{Flags, Quantity, Sample, Stamp, Unit, crc};

/// The sample that these bytes begin with and the length of its line with its end.
#[inline]
pub(crate) fn sample(held: &[u8]) -> Option<(Sample, usize)> {
    let rest = held.strip_prefix(b"~1,sample,")?;
    let (sequence, rest) = number(rest)?;
    let (device_ms, rest) = number(rest)?;
    let (quantity, rest) = Quantity::from_front(rest)?;
    let (value, length) = decimal(rest)?;
    let rest = rest.get(length..)?.strip_prefix(b",")?;
    let (unit, rest) = Unit::from_front(rest)?;
    let (flags, rest) = flags(rest)?;
    let (check, end) = rest.strip_prefix(b"*")?.split_first_chunk::<4>()?;
    let end = end.strip_prefix(b"\r").unwrap_or(end).strip_prefix(b"\n")?;
    let payload = held.get(1..held.len() - rest.len())?;
    if !unit.measures(quantity) || *check != hex(crc::of(payload)) {
        return None;
    }
    let stamp = Stamp { sequence, device_ms };
    Some((Sample { stamp, quantity, value, unit, flags }, held.len() - end.len()))
}

/// The four digits of a check.
#[inline]
fn hex(check: u16) -> [u8; 4] {
    // Each nibble gets a byte of its own, the highest in the first byte; those above 9 have the distance to `A`
    // added.
    let spread = u32::from(check >> 12)
        | u32::from(check & 0x0F00)
        | u32::from(check & 0xF0) << 12
        | u32::from(check & 0xF) << 24;
    let above_nine = (spread + 0x0606_0606) >> 4 & 0x0101_0101;
    (spread + 0x3030_3030 + above_nine * 7).to_le_bytes()
}

/// A number and what follows the comma behind it.
#[inline(always)]
fn number(rest: &[u8]) -> Option<(u32, &[u8])> {
    let (number, length) = leading_number(rest)?;
    Some((number, rest.get(length..)?.strip_prefix(b",")?))
}

/// The flags and what follows them, from the star on.
#[inline]
fn flags(rest: &[u8]) -> Option<(Flags, &[u8])> {
    if let Some(rest) = rest.strip_prefix(b"-").filter(|rest| rest.first() == Some(&b'*')) {
        return Some((Flags::NONE, rest));
    }
    // Every letter once at most: a longer field is not a field of flags.
    let length = rest.iter().take(53).position(|byte| *byte == b'*')?;
    Some((Flags::from_field(rest.get(..length)?)?, rest.get(length..)?))
}

#[cfg(test)]
mod tests;
