//! Quantiles: the distribution functions inverted by Newton steps inside a bracket.

use super::{normal_cdf, normal_pdf, t_sf};
use crate::special::GammaShape;

/// The `z` that a standard normal is below with probability `p`.
pub fn normal_quantile(p: f64) -> f64 {
    if !(0.0..=1.0).contains(&p) {
        return f64::NAN;
    }
    if p > 0.5 {
        return -lower_normal(1.0 - p);
    }
    if p == 0.5 { 0.0 } else { lower_normal(p) }
}

/// `p` must be at most one half. Starts from Abramowitz and Stegun 26.2.23, then takes Halley steps.
fn lower_normal(p: f64) -> f64 {
    if p == 0.0 {
        return f64::NEG_INFINITY;
    }
    let t = (-2.0 * libm::log(p)).sqrt();
    let top = 2.515_517 + t * (0.802_853 + t * 0.010_328);
    let bottom = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    let mut z = top / bottom - t;
    for _ in 0..3 {
        let density = normal_pdf(z);
        if density == 0.0 {
            break;
        }
        let step = (normal_cdf(z) - p) / density;
        z -= step / (1.0 + 0.5 * z * step);
    }
    z
}

/// The `t` that Student's t with `dof` degrees of freedom is below with probability `p`. `dof` may be infinite.
pub fn t_quantile(p: f64, dof: f64) -> f64 {
    if !(0.0..=1.0).contains(&p) || dof.is_nan() || dof <= 0.0 {
        return f64::NAN;
    }
    if dof.is_infinite() {
        return normal_quantile(p);
    }
    if p == 0.5 {
        return 0.0;
    }
    let tail = p.min(1.0 - p);
    if tail == 0.0 {
        return if p < 0.5 { f64::NEG_INFINITY } else { f64::INFINITY };
    }
    let z = -normal_quantile(tail);
    let square = z * z;
    let start = z
        * (1.0 + (square + 1.0) / (4.0 * dof) + ((5.0 * square + 16.0) * square + 3.0) / (96.0 * dof * dof));
    let t = solve(start, |t| t_sf(t, dof), tail);
    if p < 0.5 { -t } else { t }
}

/// The value that chi-squared with `dof` degrees of freedom is below with probability `p`.
pub fn chi2_quantile(p: f64, dof: f64) -> f64 {
    chi2_quantile_from(normal_quantile(p), p, dof)
}

/// The same, if the normal quantile at `p` is already known.
pub(crate) fn chi2_quantile_from(normal: f64, p: f64, dof: f64) -> f64 {
    if !(0.0..=1.0).contains(&p) || dof.is_nan() || dof <= 0.0 || dof.is_infinite() {
        return f64::NAN;
    }
    if p == 0.0 || p == 1.0 {
        return if p == 0.0 { 0.0 } else { f64::INFINITY };
    }
    // The Wilson-Hilferty cube root.
    let a = 2.0 / (9.0 * dof);
    let root = (1.0 - a + normal * a.sqrt()).max(0.1);
    let start = dof * root * root * root;
    let shape = GammaShape::of(0.5 * dof);
    let (sign, target) = if p > 0.5 { (-1.0, 1.0 - p) } else { (1.0, p) };
    let tail = |x: f64| {
        let found = shape.at(0.5 * x);
        (if p > 0.5 { found.tails.upper } else { found.tails.lower }, sign * found.slope)
    };
    newton(start, tail, target)
}

/// The positive `x` at which a tail equals `target`, by Newton steps on the logarithms of both, which are nearly
/// straight. `tail` gives the tail and its slope per unit of ln x.
fn newton(start: f64, tail: impl Fn(f64) -> (f64, f64), target: f64) -> f64 {
    let mut x = start;
    for _ in 0..100 {
        let (height, slope) = tail(x);
        let step = (height * libm::log(target / height) / slope).clamp(-50.0, 2.0);
        if step.is_nan() {
            break;
        }
        x *= libm::exp(step);
        // The error after a step is about the square of the step.
        if step.abs() < 1e-9 {
            return x;
        }
    }
    f64::NAN
}

/// The positive `x` at which the decreasing function `tail` equals `target`, by secant steps on the logarithms
/// (nearly straight for all these tails) inside a bracket.
fn solve(start: f64, tail: impl Fn(f64) -> f64, target: f64) -> f64 {
    let goal = libm::log(target);
    let height = |u: f64| libm::log(tail(libm::exp(u))) - goal;
    let mut a = libm::log(start.max(1e-300));
    let mut fa = height(a);
    if fa == 0.0 {
        return start;
    }
    let mut step = 0.05;
    let (mut b, mut fb);
    loop {
        b = if fa > 0.0 { a + step } else { a - step };
        fb = height(b);
        if fa * fb <= 0.0 || b.is_nan() || b.abs() >= 700.0 {
            break;
        }
        (a, fa) = (b, fb);
        step *= 2.0;
    }
    chandrupatla(a, fa, b, fb, height)
}

/// Root between `a` and `b` by Chandrupatla's method (Adv. Eng. Software 28, 1997), returned as exp(root).
fn chandrupatla(mut a: f64, mut fa: f64, mut b: f64, mut fb: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut c, mut fc);
    let mut t = if fa.is_finite() && fb.is_finite() { fa / (fa - fb) } else { 0.5 };
    for _ in 0..200 {
        let x = a + t * (b - a);
        let fx = f(x);
        if fx.is_sign_negative() == fa.is_sign_negative() {
            (c, fc) = (a, fa);
        } else {
            (c, fc) = (b, fb);
            (b, fb) = (a, fa);
        }
        (a, fa) = (x, fx);
        let (best, least) = if fa.abs() < fb.abs() { (a, fa) } else { (b, fb) };
        let limit = 0.5e-16 * best.abs().max(1.0);
        let fraction = limit / (b - a).abs();
        if least == 0.0 || fraction > 0.5 {
            return libm::exp(best);
        }
        let xi = (a - b) / (c - b);
        let phi = (fa - fb) / (fc - fb);
        t = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        } else {
            0.5
        };
        t = t.max(fraction).min(1.0 - fraction);
    }
    libm::exp(a)
}
