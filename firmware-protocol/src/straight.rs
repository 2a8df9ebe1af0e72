//! The straight way through a sample that is whole: no search for its end, each byte looked at about twice.
//!
//! Whatever is not a plain sample of this version, whole and right, is nothing here and goes the long way, which
//! finds what is wrong with it. A test holds the two ways to the same answers.

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
    // Each nibble in a byte of its own, the highest in the first byte; those above 9 get the way to `A` added.
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
    // Every letter once at most: a longer field is no field of flags.
    let length = rest.iter().take(53).position(|byte| *byte == b'*')?;
    Some((Flags::from_field(rest.get(..length)?)?, rest.get(length..)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::decode::check_digits;

    /// Every golden line, as it is, with each bit turned, and cut at each byte: what the straight way takes, the long way
    /// reads the same, and it takes every plain sample.
    #[test]
    fn the_straight_way_is_the_long_way() {
        let mut taken = 0;
        for row in include_str!("../vectors/lines.txt").lines().filter(|row| !row.starts_with('#')) {
            let line = row.rsplit('\t').next().unwrap();
            let mut bytes = [0; 130];
            let length = line.len() + 2;
            bytes[..line.len()].copy_from_slice(line.as_bytes());
            bytes[line.len()..length].copy_from_slice(b"\r\n");
            for bit in 0..length * 8 {
                bytes[bit / 8] ^= 1 << (bit % 8);
                same_both_ways(&bytes[..length]);
                bytes[bit / 8] ^= 1 << (bit % 8);
            }
            for cut in 0..length {
                assert!(sample(&bytes[..cut]).is_none(), "{line} cut at {cut}");
            }
            let is_sample = row.starts_with("sample\t");
            let later = row.starts_with("later\tsample") && !line.contains("added");
            assert_eq!(same_both_ways(&bytes[..length]), is_sample || later, "{line}");
            taken += usize::from(is_sample);
        }
        assert_eq!(taken, 14);
    }

    /// Whether the straight way takes these bytes; if so, the long way must read the same.
    fn same_both_ways(bytes: &[u8]) -> bool {
        let Some((read, length)) = sample(bytes) else { return false };
        let line = bytes[..length].strip_suffix(b"\n").unwrap();
        let line = line.strip_suffix(b"\r").unwrap_or(line);
        assert_eq!(crate::decode(line), Ok(crate::Message::Sample(read)));
        true
    }

    #[test]
    fn every_check_has_its_digits() {
        for check in 0..=u16::MAX {
            let [a, b, c, d] = hex(check);
            assert_eq!(check_digits(&[b'*', a, b, c, d]), Some(check));
        }
    }
}
