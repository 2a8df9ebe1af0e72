//! Tests of `crc`.

use super::*;

fn slowly(bytes: &[u8]) -> u16 {
    let mut crc = START;
    for byte in bytes {
        crc ^= u16::from(*byte) << 8;
        for _ in 0..8 {
            crc = if crc & 0x8000 == 0 { crc << 1 } else { (crc << 1) ^ 0x1021 };
        }
    }
    crc
}

/// Check value of CRC-16/IBM-3740 in the catalogue of parametrised CRC algorithms
/// (as carried by the crate crc-catalog 2.5.0).
#[test]
fn catalogue_check_value() {
    assert_eq!(of(b"123456789"), 0x29B1);
    assert_eq!(slowly(b"123456789"), 0x29B1);
}

#[test]
fn tables_and_steps_agree_with_the_definition_at_every_length() {
    let bytes: [u8; 100] = core::array::from_fn(|i| (i * 151 + 7) as u8);
    for length in 0..=bytes.len() {
        let some = &bytes[..length];
        let stepped = some.iter().fold(START, |crc, &b| step(crc, b));
        assert_eq!(of(some), slowly(some), "length {length}");
        assert_eq!(stepped, slowly(some), "length {length}");
    }
}
