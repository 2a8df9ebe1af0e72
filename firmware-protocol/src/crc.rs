//! The check on every line: CRC-16/IBM-3740.
//!
//! Polynomial 0x1021, initial value 0xFFFF, not reflected, no final XOR; the catalogue of
//! parametrised CRC algorithms gives 0x29B1 for the nine characters `123456789`. It finds every
//! single and double bit error and every burst of up to 16 bits in a line of ours.

/// What the CRC starts from.
pub const START: u16 = 0xFFFF;

/// The CRC after one more byte, without a table: what a small board runs.
///
/// ```
/// let crc = b"123456789".iter().fold(jigtrue_protocol::crc::START, |crc, &byte| {
///     jigtrue_protocol::crc::step(crc, byte)
/// });
/// assert_eq!(crc, 0x29B1);
/// ```
#[inline]
#[must_use]
pub const fn step(crc: u16, byte: u8) -> u16 {
    let mut crc = crc.rotate_left(8) ^ byte as u16;
    crc ^= (crc & 0xFF) >> 4;
    crc ^= crc << 12;
    crc ^ ((crc & 0xFF) << 5)
}

/// The CRC of some bytes, sixteen at a time by tables: what a receiver of many lines runs.
#[must_use]
pub fn of(bytes: &[u8]) -> u16 {
    let (odd, blocks) = bytes.split_at(bytes.len() % BLOCK);
    let mut crc = odd_bytes(odd);
    let (blocks, _) = blocks.as_chunks::<BLOCK>();
    for block in blocks {
        crc = one_block(crc, block);
    }
    crc
}

const BLOCK: usize = 16;

/// `AFTER[k][b]` is the CRC, from zero, of byte `b` followed by `k` zero bytes. A CRC is linear, so
/// that of a block is the XOR of what each of its bytes leaves behind.
static AFTER: [[u16; 256]; BLOCK] = tables();

const fn tables() -> [[u16; 256]; BLOCK] {
    let mut all = [[0; 256]; BLOCK];
    let mut byte = 0;
    while byte < 256 {
        let mut crc = step(0, byte as u8);
        let mut zeros = 0;
        while zeros < BLOCK {
            all[zeros][byte] = crc;
            crc = step(crc, 0);
            zeros += 1;
        }
        byte += 1;
    }
    all
}

#[inline]
fn one_block(crc: u16, block: &[u8; BLOCK]) -> u16 {
    let [high, low] = crc.to_be_bytes();
    let mut out =
        AFTER[BLOCK - 1][usize::from(block[0] ^ high)] ^ AFTER[BLOCK - 2][usize::from(block[1] ^ low)];
    for k in 2..BLOCK {
        out ^= AFTER[BLOCK - 1 - k][usize::from(block[k])];
    }
    out
}

/// The first few bytes, fewer than a block: their tables are counted from their own end.
#[inline]
fn odd_bytes(bytes: &[u8]) -> u16 {
    let [high, low] = START.to_be_bytes();
    match bytes {
        [] => START,
        [only] => step(START, *only),
        [first, second, rest @ ..] => {
            let last = rest.len() % BLOCK;
            let mut out =
                AFTER[(last + 1) % BLOCK][usize::from(first ^ high)] ^ AFTER[last][usize::from(second ^ low)];
            for (k, byte) in rest.iter().rev().enumerate().take(BLOCK) {
                out ^= AFTER[k % BLOCK][usize::from(*byte)];
            }
            out
        }
    }
}

#[cfg(test)]
mod tests {
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
}
