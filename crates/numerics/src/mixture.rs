//! A normal error whose standard deviation is uncertain: one of several, each with its weight.

use crate::decide::Limits;
use crate::dist;

/// Standard deviations within this ratio are merged; that changes a half width by less than 5e-5 of its size.
const ALIKE: f64 = 1.02;
/// Each of two mixtures is reduced to this many groups before they are combined.
const GROUPS: usize = 20;

/// One standard deviation that the error may have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Its weight; the weights add up to 1.
    pub weight: f64,
    /// The standard deviation.
    pub u: f64,
}

/// The distribution of an error with mean zero; parts are sorted by standard deviation.
#[derive(Clone, Debug, PartialEq)]
pub struct Mixture(Vec<Part>);

impl Mixture {
    /// A normal error with this standard deviation.
    pub fn normal(u: f64) -> Self {
        Self(vec![Part { weight: 1.0, u }])
    }

    /// From parts whose weights add up to 1. Nearly equal parts are merged.
    pub fn new(mut parts: Vec<Part>) -> Self {
        parts.sort_unstable_by(|a, b| a.u.total_cmp(&b.u));
        let mut out: Vec<Part> = Vec::with_capacity(parts.len().min(64));
        let mut first = f64::NAN;
        for part in parts {
            match out.last_mut() {
                Some(last) if part.u <= first * ALIKE => {
                    let weight = last.weight + part.weight;
                    let square = last.weight * last.u * last.u + part.weight * part.u * part.u;
                    *last = Part { weight, u: (square / weight).sqrt() };
                }
                _ => {
                    first = part.u;
                    out.push(part);
                }
            }
        }
        Self(out)
    }

    /// The h for which the error is within ±h with probability `level`, above 0 and below 1.
    ///
    /// Newton steps: the probability is concave in h, so steps from the left never overshoot.
    pub fn half_width(&self, level: f64) -> f64 {
        let factor = dist::normal_quantile(0.5 + 0.5 * level);
        let mean: f64 = self.0.iter().map(|p| p.weight * p.u).sum();
        let least = factor * self.0.first().map_or(0.0, |p| p.u);
        if self.0.len() < 2 || mean.is_nan() || mean <= 0.0 || mean.is_infinite() {
            return factor * mean;
        }
        let mut h = (factor * mean).max(least);
        for _ in 0..200 {
            let (mut outside, mut density) = (0.0, 0.0);
            for part in self.0.iter().filter(|p| p.u > 0.0) {
                let z = h / part.u;
                outside += part.weight * 2.0 * dist::normal_sf(z);
                density += part.weight * 2.0 * dist::normal_pdf(z) / part.u;
            }
            let step = (outside - (1.0 - level)) / density;
            let next = if step.is_finite() { (h + step).max(least) } else { least };
            // The error after a step is about the square of the step.
            if (next - h).abs() <= 1e-7 * h {
                return next;
            }
            h = next;
        }
        h
    }

    /// Probability of an error of at least this size, on either side of zero.
    pub fn two_sided(&self, error: f64) -> f64 {
        let tail = |p: &Part| {
            if p.u > 0.0 {
                2.0 * dist::normal_sf(error.abs() / p.u)
            } else {
                f64::from(u8::from(error == 0.0))
            }
        };
        self.0.iter().map(|p| p.weight * tail(p)).sum()
    }

    /// Probability that the true value is inside the limits if `value` was measured.
    pub fn conformity(&self, value: f64, limits: Limits) -> f64 {
        let zone = limits.zone();
        let inside = |p: &Part| {
            if p.u > 0.0 {
                // Tails are accurate where they are small, and so is their sum.
                1.0 - dist::normal_cdf((zone.from - value) / p.u) - dist::normal_sf((zone.to - value) / p.u)
            } else {
                f64::from(u8::from(zone.contains(value)))
            }
        };
        self.0.iter().map(|p| p.weight * inside(p)).sum::<f64>().clamp(0.0, 1.0)
    }

    /// The distribution of the sum of two independent errors.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        let (ours, theirs) = (self.gathered(), other.gathered());
        let meet = |a: &Part, b: &Part| Part { weight: a.weight * b.weight, u: libm::hypot(a.u, b.u) };
        Self::new(ours.iter().flat_map(|a| theirs.iter().map(move |b| meet(a, b))).collect())
    }

    /// At most `GROUPS` parts; neighbours are merged with the root mean square of their standard deviations.
    fn gathered(&self) -> Vec<Part> {
        if self.0.len() <= GROUPS {
            return self.0.clone();
        }
        let share = 1.0 / GROUPS as f64;
        let mut groups: Vec<Part> = Vec::with_capacity(GROUPS + 1);
        let mut open = Part { weight: 0.0, u: 0.0 };
        for part in &self.0 {
            open.weight += part.weight;
            open.u += part.weight * part.u * part.u;
            if open.weight >= share - 1e-12 {
                groups.push(Part { weight: open.weight, u: (open.u / open.weight).sqrt() });
                open = Part { weight: 0.0, u: 0.0 };
            }
        }
        if open.weight > 0.0 {
            groups.push(Part { weight: open.weight, u: (open.u / open.weight).sqrt() });
        }
        groups
    }
}
