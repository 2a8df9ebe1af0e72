//! Decimal digits eight at a time, in one 64-bit word, first digit in the lowest byte.

const ONES: u64 = 0x0101_0101_0101_0101;

/// The top bit of each byte of `text` that is not a digit.
///
/// ```
/// use jigtrue_protocol::digits;
/// let text = u64::from_le_bytes(*b"125,-7.0");
/// assert_eq!(digits::not_digits(text).trailing_zeros() / 8, 3);
/// assert_eq!(digits::value(text, 3), 125);
/// ```
#[inline]
#[must_use]
pub const fn not_digits(text: u64) -> u64 {
    let digits = text ^ (ONES * 0x30);
    // A byte that is a digit is now 0 to 9. Carries never leave a byte: the top bits are taken out before the addition.
    (((digits & (ONES * 0x7F)) + ONES * 0x76) | digits) & (ONES * 0x80)
}

/// The number that the first `count` bytes of `text` write, which are digits: 1 to 8 of them.
#[inline]
#[must_use]
pub const fn value(text: u64, count: usize) -> u32 {
    // The digits are pushed to the top; then neighbours are added together three times (tens, hundreds, ten thousands).
    let pushed = (text ^ (ONES * 0x30)) << (64 - 8 * count);
    let tens = pushed.wrapping_mul(10).wrapping_add(pushed >> 8) & 0x00FF_00FF_00FF_00FF;
    let hundreds = tens.wrapping_mul(100).wrapping_add(tens >> 16) & 0x0000_FFFF_0000_FFFF;
    (hundreds.wrapping_mul(10_000).wrapping_add(hundreds >> 32) & 0xFFFF_FFFF) as u32
}
