//! A value with its uncertainty.

use super::decimal::{decimals_for, fixed, signed};
use alloc::format;
use alloc::string::String;

/// ± is this many standard uncertainties: the 95 % factor of the normal distribution, 1.96.
pub const K95: f64 = 1.959_963_984_540_054;

/// No value is shown with more decimals than this.
const MOST: usize = 12;

/// How many decimals a ± and its value are shown with: two significant digits if the ± begins with 1 or 2, else one.
/// 3 if the ± is unknown.
pub fn decimals(half: f64) -> usize {
    if !(half.is_finite() && half > 0.0) {
        return 3;
    }
    let one = decimals_for(half, 1);
    let first = fixed(half * libm::exp10(one.min(300) as f64), 9);
    let two = half < 10.0 && matches!(first.as_bytes().first(), Some(b'1' | b'2'));
    (one + usize::from(two)).min(MOST)
}

/// Whether a value equals its limit, allowing for binary rounding (2.3 less 2.0 is not exactly 0.3). The allowance is
/// below what any instrument shows.
pub fn on_limit(value: f64, limit: f64) -> bool {
    (value - limit).abs() <= 1e-12 * limit.abs().max(1.0)
}

/// A value and its 95 % half width, ready to be written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WithU {
    value: f64,
    half: f64,
    decimals: usize,
}

impl WithU {
    /// From a value and the half width of its 95 % interval.
    pub fn of_half(value: f64, half: f64) -> Self {
        Self { value, half, decimals: decimals(half) }
    }

    /// From a value and its standard uncertainty, with normal errors.
    pub fn of_u(value: f64, u: f64) -> Self {
        Self::of_half(value, K95 * u)
    }

    /// Adds digits where the rounded value would land on one of these limits or cross it.
    #[must_use]
    pub fn against(mut self, limits: impl IntoIterator<Item = Option<f64>>) -> Self {
        for limit in limits.into_iter().flatten() {
            while self.decimals < MOST && self.hides(limit) {
                self.decimals += 1;
            }
        }
        self
    }

    /// At least this many decimals, as in a column.
    #[must_use]
    pub fn at_least(mut self, decimals: usize) -> Self {
        self.decimals = self.decimals.max(decimals).min(MOST);
        self
    }

    fn hides(&self, limit: f64) -> bool {
        let value = if on_limit(self.value, limit) { limit } else { self.value };
        let shown: f64 = fixed(value, self.decimals).parse().unwrap_or(value);
        value.partial_cmp(&limit) != shown.partial_cmp(&limit)
    }

    /// Decimals of the value and of ±.
    pub const fn decimals(&self) -> usize {
        self.decimals
    }

    /// The value with its sign: `+2.05`, `-0.247`.
    pub fn signed(&self) -> String {
        signed(self.value, self.decimals)
    }

    /// The value, with a sign only if it is negative: `954.2`.
    pub fn plain(&self) -> String {
        fixed(self.value, self.decimals)
    }

    /// The half width: `±0.07`; `±?` if it is unknown, since no measurement is exact.
    pub fn half(&self) -> String {
        if self.half.is_finite() && self.half > 0.0 {
            format!("±{}", fixed(self.half, self.decimals))
        } else {
            "±?".into()
        }
    }

    /// Both with the unit: `-0.36 ±0.07°`, `+4.06 ±0.12 mm`.
    pub fn signed_with(&self, unit: &str) -> String {
        super::with_unit(&format!("{} {}", self.signed(), self.half()), unit)
    }
}
