//! Decimal text to [`Dd`], rounded to nearest in both halves: `0.1` keeps 32 digits instead of 16.

use crate::dd::Dd;
use core::str::FromStr;

/// Text that is not a finite decimal number.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "`{text}` is not a decimal number{}",
    if .text.contains(',') { " (the decimal mark is a point, not a comma)" } else { "" }
)]
pub struct NotADecimal {
    /// The text as given.
    pub text: String,
}

/// Sign, digits without the point, and the power of ten they are multiplied with.
struct Parts {
    negative: bool,
    digits: Vec<u8>,
    exponent: i64,
}

impl Dd {
    /// Reads a decimal number such as `-0.1`, `12`, `1.5e-3`.
    ///
    /// The high half is the `f64` nearest to the text, the low half the `f64` nearest to the remainder. Values too
    /// small for an `f64` become zero.
    ///
    /// # Errors
    /// [`NotADecimal`] if the text is not one finite decimal number (`inf` and `nan` are not).
    pub fn parse(text: &str) -> Result<Self, NotADecimal> {
        let refused = || NotADecimal { text: text.to_owned() };
        let text = text.trim();
        let parts = parts(text).ok_or_else(refused)?;
        let hi = f64::from_str(text).map_err(|_| refused())?;
        if !hi.is_finite() {
            return Err(refused());
        }
        if hi == 0.0 {
            return Ok(Self::ZERO);
        }
        let lo = short_remainder(&parts, hi).unwrap_or_else(|| long_remainder(&parts, hi));
        Ok(Self::from_sum(hi, lo))
    }
}

fn parts(text: &str) -> Option<Parts> {
    let (mantissa, exponent) = match text.split_once(['e', 'E']) {
        Some((m, e)) => (m, i64::from(i32::from_str(e).ok()?)),
        None => (text, 0),
    };
    let negative = mantissa.starts_with('-');
    let mantissa = mantissa.strip_prefix(['-', '+']).unwrap_or(mantissa);
    let (whole, fraction) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let digits: Vec<u8> = whole.bytes().chain(fraction.bytes()).collect();
    if digits.is_empty() || !digits.iter().all(u8::is_ascii_digit) {
        return None;
    }
    let exponent = exponent - i64::try_from(fraction.len()).ok()?;
    Some(Parts { negative, digits, exponent })
}

/// The remainder after `hi` in integer arithmetic, for decimals as people write them: up to 19 digits and 15
/// decimals.
fn short_remainder(parts: &Parts, hi: f64) -> Option<f64> {
    let decimals = u32::try_from(-parts.exponent).ok().filter(|d| *d <= 15)?;
    if parts.digits.len() > 19 {
        return None;
    }
    let mantissa = parts.digits.iter().fold(0_u128, |m, d| m * 10 + u128::from(d - b'0'));
    let bits = hi.abs().to_bits();
    let power = i64::try_from(bits >> 52).ok()? - 1075;
    let binary = u128::from((bits & ((1 << 52) - 1)) | (1 << 52));
    let ten = 10_u128.pow(decimals);
    // The difference is at most half a unit of `hi`, so arithmetic modulo 2^128 gives it exactly.
    let (scaled, unit) = if power < 0 {
        let shift = u32::try_from(-power).ok().filter(|s| *s < 128)?;
        let difference = (mantissa << shift).wrapping_sub(binary * ten);
        (difference.cast_signed(), power)
    } else {
        let shift = u32::try_from(power).ok().filter(|s| *s < 16)?;
        let difference = mantissa.wrapping_sub((binary << shift) * ten);
        (difference.cast_signed(), 0)
    };
    let numerator = i64::try_from(scaled).ok().filter(|n| n.abs() < 1 << 53)?;
    let quotient = numerator as f64 / ten as f64;
    let signed = if parts.negative { -quotient } else { quotient };
    Some(libm::ldexp(signed, i32::try_from(unit).ok()?))
}

/// The remainder after `hi`, by subtracting its exact decimal expansion digit by digit, for text of any length.
fn long_remainder(parts: &Parts, hi: f64) -> f64 {
    let expansion = format!("{:.1074}", hi.abs());
    let (whole, fraction) = expansion.split_once('.').unwrap_or((&expansion, ""));
    let decimals = usize::try_from((-parts.exponent).max(0)).unwrap_or(0).max(1074);
    let trailing = usize::try_from(parts.exponent.max(0)).unwrap_or(0);
    let mut typed = parts.digits.clone();
    let have = usize::try_from((-parts.exponent).max(0)).unwrap_or(0);
    typed.extend(std::iter::repeat_n(b'0', trailing + decimals - have));
    let mut exact: Vec<u8> = whole.bytes().chain(fraction.bytes()).collect();
    exact.extend(std::iter::repeat_n(b'0', decimals - fraction.len()));
    let width = typed.len().max(exact.len());
    let pad = |v: Vec<u8>| -> Vec<u8> {
        let mut out = vec![b'0'; width - v.len()];
        out.extend(v);
        out
    };
    let (typed, exact) = (pad(typed), pad(exact));
    let below = typed < exact;
    let (large, small) = if below { (exact, typed) } else { (typed, exact) };
    let mut borrow = 0_u8;
    let mut digits = vec![b'0'; width];
    for i in (0..width).rev() {
        let take = small[i] - b'0' + borrow;
        let from = large[i] - b'0';
        borrow = u8::from(from < take);
        digits[i] = b'0' + from + 10 * borrow - take;
    }
    let text: String = digits.iter().map(|d| char::from(*d)).collect();
    let magnitude = f64::from_str(&format!("{text}e-{decimals}")).unwrap_or(0.0);
    if below == parts.negative { magnitude } else { -magnitude }
}
