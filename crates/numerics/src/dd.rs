//! [`Dd`]: a number held as the unevaluated sum of two `f64`, about 32 significant digits.
//!
//! The `twofloat` crate does not serve: it cannot parse decimals, multiplies only with `fma` (a call into the
//! platform's library unless the compiler may assume the instruction), and its `std` feature uses the platform's
//! functions. Only the four operations and the square root are needed here. Addition, multiplication and division
//! follow Joldes, Muller and Popescu, "Tight and rigorous error bounds for basic building blocks of double-word
//! arithmetic", ACM TOMS 44 (2017); relative errors are a few 2^-106.

use core::cmp::Ordering;
use core::iter::Sum;
use core::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

/// A double-double number: `hi + lo`, `hi` the nearest `f64` to the value.
///
/// Keep magnitudes within 1e-140 to 1e290; outside, products lose their low half or become NaN (never a panic).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Dd {
    hi: f64,
    lo: f64,
}

/// `a + b` exactly, as rounded sum and error (Knuth).
#[inline(always)]
fn two_sum(a: f64, b: f64) -> (f64, f64) {
    let s = a + b;
    let bb = s - a;
    (s, (a - (s - bb)) + (b - bb))
}

/// `a + b` exactly, if `|a| >= |b|` (Dekker).
#[inline(always)]
fn fast_two_sum(a: f64, b: f64) -> (f64, f64) {
    let s = a + b;
    (s, b - (s - a))
}

#[inline(always)]
fn split(a: f64) -> (f64, f64) {
    let c = 134_217_729.0 * a;
    let hi = c - (c - a);
    (hi, a - hi)
}

/// `a * b` exactly, as rounded product and error. Both branches give the same bits.
#[inline(always)]
fn two_prod(a: f64, b: f64) -> (f64, f64) {
    let p = a * b;
    if cfg!(any(target_feature = "fma", target_arch = "aarch64")) {
        (p, a.mul_add(b, -p))
    } else {
        let (ah, al) = split(a);
        let (bh, bl) = split(b);
        (p, ((ah * bh - p) + ah * bl + al * bh) + al * bl)
    }
}

impl Dd {
    pub const ZERO: Self = Self { hi: 0.0, lo: 0.0 };
    /// One.
    pub const ONE: Self = Self { hi: 1.0, lo: 0.0 };

    /// The exact value of an `f64`.
    #[inline]
    pub const fn new(value: f64) -> Self {
        Self { hi: value, lo: 0.0 }
    }

    /// The sum of two `f64`, exactly.
    #[inline]
    pub fn from_sum(a: f64, b: f64) -> Self {
        let (hi, lo) = two_sum(a, b);
        Self { hi, lo }
    }

    /// The nearest `f64`.
    #[inline]
    pub const fn to_f64(self) -> f64 {
        self.hi
    }

    /// Whether both halves are finite.
    #[inline]
    pub fn is_finite(self) -> bool {
        self.hi.is_finite() && self.lo.is_finite()
    }

    /// The magnitude.
    #[inline]
    pub fn abs(self) -> Self {
        if self.hi < 0.0 { -self } else { self }
    }

    /// The square root; NaN for negative numbers.
    #[inline]
    pub fn sqrt(self) -> Self {
        if self.hi == 0.0 {
            return Self::ZERO;
        }
        let s = self.hi.sqrt();
        let (p, e) = two_prod(s, s);
        let rest = ((self.hi - p) - e) + self.lo;
        let (hi, lo) = fast_two_sum(s, rest / (2.0 * s));
        Self { hi, lo }
    }

    #[inline]
    pub fn square(self) -> Self {
        self * self
    }

    /// The product with a power of two, which is exact.
    #[inline]
    pub fn scaled_by_power_of_two(self, factor: f64) -> Self {
        Self { hi: self.hi * factor, lo: self.lo * factor }
    }

    /// Inner product of two slices; extra entries of the longer one are ignored.
    #[inline]
    pub fn dot(a: &[Self], b: &[Self]) -> Self {
        let mut sum = Self::ZERO;
        for (&x, &y) in a.iter().zip(b) {
            sum += x * y;
        }
        sum
    }
}

impl PartialOrd for Dd {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        match self.hi.partial_cmp(&other.hi)? {
            Ordering::Equal => self.lo.partial_cmp(&other.lo),
            unequal => Some(unequal),
        }
    }
}

impl Neg for Dd {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        Self { hi: -self.hi, lo: -self.lo }
    }
}

impl Add for Dd {
    type Output = Self;
    #[inline(always)]
    fn add(self, other: Self) -> Self {
        let (sh, sl) = two_sum(self.hi, other.hi);
        let (th, tl) = two_sum(self.lo, other.lo);
        let (vh, vl) = fast_two_sum(sh, sl + th);
        let (hi, lo) = fast_two_sum(vh, tl + vl);
        Self { hi, lo }
    }
}

impl Sub for Dd {
    type Output = Self;
    #[inline(always)]
    fn sub(self, other: Self) -> Self {
        self + (-other)
    }
}

impl Mul for Dd {
    type Output = Self;
    #[inline(always)]
    fn mul(self, other: Self) -> Self {
        let (ch, cl) = two_prod(self.hi, other.hi);
        let cross = self.hi * other.lo + self.lo * other.hi;
        let (hi, lo) = fast_two_sum(ch, cl + cross);
        Self { hi, lo }
    }
}

impl Mul<f64> for Dd {
    type Output = Self;
    #[inline(always)]
    fn mul(self, other: f64) -> Self {
        let (ch, cl) = two_prod(self.hi, other);
        let (hi, lo) = fast_two_sum(ch, cl + self.lo * other);
        Self { hi, lo }
    }
}

impl Div for Dd {
    type Output = Self;
    #[inline]
    fn div(self, other: Self) -> Self {
        let first = self.hi / other.hi;
        let rest = self - other * first;
        let second = rest.hi / other.hi;
        let rest = rest - other * second;
        let third = rest.hi / other.hi;
        let (hi, lo) = fast_two_sum(first, second);
        Self { hi, lo } + Self::new(third)
    }
}

impl AddAssign for Dd {
    #[inline(always)]
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl SubAssign for Dd {
    #[inline(always)]
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}

impl Sum for Dd {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, |a, b| a + b)
    }
}
