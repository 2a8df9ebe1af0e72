//! Tests of `straight`.

use super::*;
use crate::decode::check_digits;

/// Every golden line, as it is, with each bit turned, and cut at each byte: what the fast path reads, the slow path
/// reads the same, and the fast path reads every plain sample.
#[test]
fn the_fast_path_agrees_with_the_slow_path() {
    let mut taken = 0;
    for row in include_str!("../../vectors/lines.txt").lines().filter(|row| !row.starts_with('#')) {
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

/// Whether the fast path reads these bytes; if so, the slow path must read the same.
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
