//! Decimal numbers as instruments send them, kept exactly as sent.

use core::fmt;
use jigtrue_protocol::digits;

/// `mantissa` times ten to the `exponent`: exactly the digits that were sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Decimal {
    /// The digits with their sign; at most 18.
    pub mantissa: i64,
    /// The power of ten, -18 to 18.
    pub exponent: i8,
}

/// A number at the start of some bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leading {
    pub number: Decimal,
    /// How many bytes it takes.
    pub length: usize,
}

/// Whether a digit must precede the decimal mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Before {
    /// At least one.
    Wanted,
    /// A number may begin with the mark.
    MayLack,
}

/// 10^0 to 10^22, the powers of ten that a double holds exactly.
const POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19, 1e20, 1e21, 1e22,
];

const MOST_DIGITS: usize = 18;
const LARGEST_EXPONENT: i32 = 18;

impl Decimal {
    /// The nearest double (correctly rounded up to 15 digits, more than any instrument sends).
    #[must_use]
    pub fn to_f64(self) -> f64 {
        let power = POWERS.get(usize::from(self.exponent.unsigned_abs())).copied().unwrap_or(f64::NAN);
        if self.exponent < 0 { self.mantissa as f64 / power } else { self.mantissa as f64 * power }
    }

    /// The same number with its last digit at this power of ten: rounded half away from zero, or padded with zeros;
    /// unchanged if that cannot be stored.
    #[must_use]
    pub fn ending_at(self, exponent: i8) -> Self {
        let away = i32::from(exponent) - i32::from(self.exponent);
        let Some(power) = 10_i64.checked_pow(away.unsigned_abs()) else { return self };
        let mantissa = if away <= 0 {
            self.mantissa.checked_mul(power)
        } else {
            let half = self.mantissa.signum() * (power / 2);
            self.mantissa.checked_add(half).map(|sum| sum / power)
        };
        let kept = |mantissa: &i64| mantissa.unsigned_abs() < 1_000_000_000_000_000_000;
        mantissa.filter(kept).map_or(self, |mantissa| Self { mantissa, exponent })
    }

    /// The product, if it can be stored exactly.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        let mantissa = self.mantissa.checked_mul(other.mantissa)?;
        let exponent = self.exponent.checked_add(other.exponent)?;
        let kept = mantissa.unsigned_abs() < 1_000_000_000_000_000_000
            && i32::from(exponent).abs() <= LARGEST_EXPONENT;
        kept.then_some(Self { mantissa, exponent })
    }

    /// The number at the start of some bytes.
    ///
    /// The forms are those of IEEE 488.2 for decimal numbers (NR1 `-12`, NR2 `12.30`, NR3 `+1.0E-2`), with a digit on
    /// both sides of a point. `None` for anything else, for more than 18 digits, and for numbers from 10^19 up, which
    /// instruments use for "no number" and "overload" (9.91E37, 9.9E37).
    #[inline]
    #[must_use]
    pub fn leading(bytes: &[u8]) -> Option<Leading> {
        Self::written(bytes, b'.', Before::Wanted)
    }

    /// The same with another decimal mark; if the digit before the mark may be missing, a number may begin with the
    /// mark.
    #[inline]
    pub(crate) fn written(bytes: &[u8], mark: u8, before: Before) -> Option<Leading> {
        short(bytes, mark).or_else(|| Self::one_by_one(bytes, mark, before))
    }

    fn one_by_one(bytes: &[u8], mark: u8, before: Before) -> Option<Leading> {
        let mut at = 0;
        let negative = match bytes.first()? {
            b'-' => {
                at = 1;
                true
            }
            b'+' => {
                at = 1;
                false
            }
            _ => false,
        };
        let mut size = 0_i64;
        let whole = if before == Before::MayLack && bytes.get(at) == Some(&mark) {
            0
        } else {
            add_digits(bytes, at, &mut size)?
        };
        at += whole;
        let mut decimals = 0;
        if bytes.get(at) == Some(&mark) {
            decimals = add_digits(bytes, at + 1, &mut size)?;
            at += 1 + decimals;
        }
        if whole + decimals > MOST_DIGITS {
            return None;
        }
        let mut exponent = -i32::try_from(decimals).ok()?;
        if let Some(b'e' | b'E') = bytes.get(at)
            && let Some((power, length)) = bytes.get(at + 1..).and_then(power)
        {
            exponent += power;
            at += 1 + length;
        }
        if exponent.abs() > LARGEST_EXPONENT {
            return None;
        }
        let mantissa = if negative { -size } else { size };
        Some(Leading { number: Self { mantissa, exponent: i8::try_from(exponent).ok()? }, length: at })
    }

    /// The number, if all the bytes together are one.
    #[must_use]
    pub fn whole(bytes: &[u8]) -> Option<Self> {
        Self::leading(bytes).filter(|found| found.length == bytes.len()).map(|found| found.number)
    }
}

/// A number that ends within eight bytes after its sign and has no power of ten: parsed in one step, without a branch
/// for each digit. `None` for any other, valid or not.
#[inline]
fn short(bytes: &[u8], point: u8) -> Option<Leading> {
    let first = *bytes.first()?;
    let sign = usize::from((first == b'-') | (first == b'+'));
    let eight = bytes.get(sign..)?.first_chunk::<8>()?;
    let text = u64::from_le_bytes(*eight);
    let ends = digits::not_digits(text);
    let whole = (ends.trailing_zeros() / 8) as usize;
    let mark = *eight.get(whole)?;
    let (text, count, length) = if mark == point {
        let end = ((ends & (ends - 1)).trailing_zeros() / 8) as usize;
        let before = (1_u64 << (8 * whole)) - 1;
        // Remove the point from between the digits.
        ((text & before) | ((text >> 8) & !before), end - 1, end)
    } else {
        (text, whole, whole)
    };
    let power_follows = matches!(eight.get(length)?, b'e' | b'E');
    let decimals = count - whole;
    if whole == 0 || power_follows || (decimals == 0 && mark == point) {
        return None;
    }
    let size = i64::from(digits::value(text, count));
    let mantissa = if first == b'-' { -size } else { size };
    Some(Leading { number: Decimal { mantissa, exponent: -(decimals as i8) }, length: sign + length })
}

/// Adds the digits from `at` on to `size`; returns how many there are, or `None` for none or too many.
#[inline]
fn add_digits(bytes: &[u8], at: usize, size: &mut i64) -> Option<usize> {
    let mut count = 0;
    for byte in bytes.get(at..)? {
        let digit = byte.wrapping_sub(b'0');
        if digit > 9 {
            break;
        }
        if count == MOST_DIGITS {
            return None;
        }
        *size = size.wrapping_mul(10).wrapping_add(i64::from(digit));
        count += 1;
    }
    (count > 0).then_some(count)
}

fn power(bytes: &[u8]) -> Option<(i32, usize)> {
    let sign = usize::from(matches!(bytes.first()?, b'-' | b'+'));
    let mut size = 0;
    let count = add_digits(bytes, sign, &mut size).filter(|count| *count <= 3)?;
    let size = i32::try_from(size).ok()?;
    Some((if bytes.first() == Some(&b'-') { -size } else { size }, sign + count))
}

impl fmt::Display for Decimal {
    /// With a point if there are decimals, and every digit that was sent: `-2.50`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.mantissa.unsigned_abs();
        if self.mantissa < 0 {
            f.write_str("-")?;
        }
        if self.exponent > 0 {
            return write!(f, "{size}e{}", self.exponent);
        }
        let decimals = u32::from(self.exponent.unsigned_abs());
        match 10_u64.checked_pow(decimals) {
            Some(power) if decimals > 0 => {
                write!(f, "{}.{:0width$}", size / power, size % power, width = decimals as usize)
            }
            _ => write!(f, "{size}"),
        }
    }
}
