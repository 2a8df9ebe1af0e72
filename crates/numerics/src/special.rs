//! Regularised incomplete beta and gamma functions, both tails at once, on `libm` alone.

const HALF_LN_TWO_PI: f64 = 0.918_938_533_204_672_8;
const TINY: f64 = 1e-300;

/// ln(q) - (q - 1) without loss of digits; the caller passes both the ratio q and e = q - 1, each in full precision.
fn log_less(q: f64, e: f64) -> f64 {
    if e.abs() > 0.1 {
        return libm::log(q) - e;
    }
    // ln(1+e) = 2 artanh(r), r = e/(2+e); subtracting e leaves -e r + 2 (r^3/3 + r^5/5 + ...).
    let r = e / (2.0 + e);
    let square = r * r;
    let mut sum = 0.0;
    for k in (1..=9).rev() {
        sum = sum * square + 1.0 / f64::from(2 * k + 1);
    }
    2.0 * r * square * sum - e * r
}

/// The remainder of Stirling's formula for ln gamma(z).
fn stirling_rest(z: f64) -> f64 {
    if z < 10.0 {
        return libm::lgamma(z) - ((z - 0.5) * libm::log(z) - z + HALF_LN_TWO_PI);
    }
    let w = 1.0 / (z * z);
    let series = 1.0 / 12.0
        - w * (1.0 / 360.0
            - w * (1.0 / 1260.0
                - w * (1.0 / 1680.0 - w * (1.0 / 1188.0 - w * (691.0 / 360_360.0 - w * (1.0 / 156.0))))));
    series / z
}

/// A regularised function and its complement, each in full precision.
pub(crate) struct Tails {
    pub lower: f64,
    pub upper: f64,
}

const NEITHER: Tails = Tails { lower: f64::NAN, upper: f64::NAN };
const NOTHING: Tails = Tails { lower: 0.0, upper: 1.0 };
const ALL: Tails = Tails { lower: 1.0, upper: 0.0 };

/// The regularised incomplete gamma functions P and Q of shape `a` at `x`.
pub(crate) fn gamma_regularised(a: f64, x: f64) -> Tails {
    if a.is_nan() || x.is_nan() || a <= 0.0 || a.is_infinite() {
        return NEITHER;
    }
    if x <= 0.0 {
        return NOTHING;
    }
    if x.is_infinite() {
        return ALL;
    }
    GammaShape::of(a).at(x).tails
}

/// The shape of a gamma distribution, with the constants that depend only on it.
pub(crate) struct GammaShape {
    a: f64,
    log_factor: f64,
}

/// The two regularised incomplete gamma functions at one place.
pub(crate) struct GammaTails {
    pub tails: Tails,
    /// The change of P per unit of ln x.
    pub slope: f64,
}

impl GammaShape {
    /// `a` must be finite and above zero.
    pub(crate) fn of(a: f64) -> Self {
        Self { a, log_factor: 0.5 * libm::log(a) - HALF_LN_TWO_PI - stirling_rest(a) }
    }

    /// `x` must be finite and above zero.
    pub(crate) fn at(&self, x: f64) -> GammaTails {
        let a = self.a;
        // x^a e^-x / gamma(a)
        let slope = libm::exp(a * log_less(x / a, (x - a) / a) + self.log_factor);
        if x < a + 1.0 {
            let (mut term, mut sum, mut k) = (1.0 / a, 1.0 / a, a);
            while term > sum * 1e-17 {
                k += 1.0;
                term *= x / k;
                sum += term;
            }
            let lower = (slope * sum).min(1.0);
            return GammaTails { tails: Tails { lower, upper: 1.0 - lower }, slope };
        }
        let mut b = x + 1.0 - a;
        let mut c = 1.0 / TINY;
        let mut d = 1.0 / b;
        let mut h = d;
        for i in 1..100_000 {
            let i = f64::from(i);
            let an = -i * (i - a);
            b += 2.0;
            d = 1.0 / nonzero(an * d + b);
            c = nonzero(b + an / c);
            h *= d * c;
            if (d * c - 1.0).abs() < 1e-16 {
                break;
            }
        }
        let upper = (slope * h).min(1.0);
        GammaTails { tails: Tails { lower: 1.0 - upper, upper }, slope }
    }
}

/// The regularised incomplete beta function at `x` and its complement; `y` is 1 - x, passed separately to keep its
/// digits.
pub(crate) fn beta_regularised(a: f64, b: f64, x: f64, y: f64) -> Tails {
    if !(a > 0.0 && b > 0.0 && a.is_finite() && b.is_finite()) || x.is_nan() || y.is_nan() {
        return NEITHER;
    }
    if x <= 0.0 {
        return NOTHING;
    }
    if y <= 0.0 {
        return ALL;
    }
    // x^a y^b / B(a,b) about its peak at a/(a+b)
    let n = a + b;
    let lambda = a * y - b * x;
    let exponent = a * log_less(x * n / a, -lambda / a)
        + b * log_less(y * n / b, lambda / b)
        + 0.5 * (libm::log(a / n) + libm::log(b))
        - HALF_LN_TWO_PI
        + stirling_rest(n)
        - stirling_rest(a)
        - stirling_rest(b);
    let factor = libm::exp(exponent);
    if lambda >= 0.0 {
        let lower = (factor * beta_fraction(a, b, x, y, lambda)).min(1.0);
        Tails { lower, upper: 1.0 - lower }
    } else {
        let upper = (factor * beta_fraction(b, a, y, x, -lambda)).min(1.0);
        Tails { lower: 1.0 - upper, upper }
    }
}

fn nonzero(v: f64) -> f64 {
    if v.abs() < TINY { TINY } else { v }
}

/// The incomplete beta function over x^a y^b / B(a,b) for lambda = a y - b x >= 0: the even part of its continued
/// fraction written about lambda, so that nothing cancels for large a and b (A. R. DiDonato and A. H. Morris, ACM
/// TOMS 18, 1992).
fn beta_fraction(a: f64, b: f64, x: f64, y: f64, lambda: f64) -> f64 {
    let denominator = |n: f64| {
        let s = a + 2.0 * n;
        let first = if n == 0.0 { 0.0 } else { n + n * (b - n) * x / (s - 1.0) };
        first + (a + n) / (s + 1.0) * (lambda + 1.0 + n * (1.0 + y))
    };
    let numerator = |n: f64| {
        let s = a + 2.0 * n - 1.0;
        (a + n - 1.0) * (a + b + n - 1.0) * n * (b - n) * x * x / (s * s)
    };
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / nonzero(denominator(0.0));
    let mut h = d;
    for n in 1..100_000 {
        let n = f64::from(n);
        let (top, bottom) = (numerator(n), denominator(n));
        d = 1.0 / nonzero(top * d + bottom);
        c = nonzero(bottom + top / c);
        h *= d * c;
        if (d * c - 1.0).abs() < 1e-16 {
            break;
        }
    }
    h
}
