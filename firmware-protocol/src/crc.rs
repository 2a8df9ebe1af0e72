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
#[inline]
#[must_use]
pub fn of(bytes: &[u8]) -> u16 {
    let odd = bytes.len() % BLOCK;
    let (front, blocks) = bytes.split_at(odd);
    let mut crc = match bytes.first_chunk::<BLOCK>() {
        Some(first) if odd >= 2 => odd_front(first, odd),
        _ => front.iter().fold(START, |crc, byte| step(crc, *byte)),
    };
    for block in blocks.as_chunks::<BLOCK>().0 {
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
    // The bytes that do not depend on the block before come first, in two independent halves.
    let after = |at: usize| AFTER[BLOCK - 1 - at][usize::from(block[at])];
    let early = after(2) ^ after(3) ^ after(4) ^ after(5) ^ after(6) ^ after(7) ^ after(8);
    let late = after(9) ^ after(10) ^ after(11) ^ after(12) ^ after(13) ^ after(14) ^ after(15);
    let [high, low] = crc.to_be_bytes();
    let first =
        AFTER[BLOCK - 1][usize::from(block[0] ^ high)] ^ AFTER[BLOCK - 2][usize::from(block[1] ^ low)];
    first ^ (early ^ late)
}

/// The CRC of the first `odd` of these bytes, two to fifteen: they are moved to the end of a block, behind zeros that
/// leave a CRC of zero unchanged; the initial value goes into the first two of them.
#[inline]
fn odd_front(first: &[u8; BLOCK], odd: usize) -> u16 {
    let word = u128::from_le_bytes(*first) ^ u128::from(START);
    one_block(0, &(word << (8 * (BLOCK - odd))).to_le_bytes())
}

#[cfg(test)]
mod tests;
