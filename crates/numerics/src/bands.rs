//! Simultaneous bands (sup-t): the factor by which a standard uncertainty must be multiplied so that the band covers
//! **all** of many linear combinations of the same coefficients at once.
//!
//! The error of the coefficients is written as length times direction. The length is integrated in closed form
//! (chi-squared) over every scale the scatter may have ([`Scatter`]); only the direction is averaged. In one
//! dimension the factor is the pointwise one. In two to four dimensions the directions are a fixed even grid, so
//! nothing is random; above that they are seeded draws. The result is the same on every machine.

use crate::dist;
use crate::mixture::{Mixture, Part};
use crate::rng::Rng;
use crate::scatter::Scatter;

mod directions;
mod space;

/// Directions with nearly equal shares are merged into this many groups, and the length is integrated once for each
/// group. In two dimensions there are few directions, and none are merged.
const GROUPS: usize = 32;
/// Once the scales in rising order use up this share of the weight, the rest, which decide the factor, are kept separate;
/// before that, scales are merged until they weigh `TOGETHER`.
const ALONE: f64 = 0.9;
const TOGETHER: f64 = 0.025;

/// The factor for a band of `level` over all `rows` (each with one entry for each coefficient), if the covariance of
/// the coefficients is `covariance` times one of the scales of `scatter`.
///
/// Rows without uncertainty are ignored; if none has any, the factor is the pointwise one. `seed` matters only if the
/// rows span more than four dimensions.
pub fn simultaneous_factor(
    rows: &[Vec<f64>],
    covariance: &[Vec<f64>],
    scatter: &Scatter,
    level: f64,
    seed: u64,
) -> f64 {
    let axes = space::unit_vectors(rows, covariance);
    let roots = roots(scatter);
    let pointwise = Mixture::new(roots.clone()).half_width(level);
    if axes.len() <= 1 {
        return pointwise;
    }
    let mut rng = Rng::new(seed);
    let shares = shares(&directions::spread(axes.len(), &mut rng), &axes);
    solve(&shares, &roots, axes.len(), pointwise, level)
}

/// The square roots of the scales, with neighbouring smaller ones merged.
fn roots(scatter: &Scatter) -> Vec<Part> {
    let mut out: Vec<Part> = Vec::new();
    let (mut below, mut open) = (0.0, Part { weight: 0.0, u: 0.0 });
    for share in scatter.shares() {
        open.weight += share.weight;
        open.u += share.weight * share.phi.sqrt();
        below += share.weight;
        if below > ALONE || open.weight >= TOGETHER {
            out.push(Part { weight: open.weight, u: open.u / open.weight });
            open = Part { weight: 0.0, u: 0.0 };
        }
    }
    if open.weight > 0.0 {
        out.push(Part { weight: open.weight, u: open.u / open.weight });
    }
    out
}

/// How many rows are processed side by side.
const LANES: usize = 8;

/// For each direction the largest share that any row takes of it, sorted and merged into groups of equal count.
fn shares(directions: &[f64], axes: &[Vec<f64>]) -> Vec<f64> {
    // Rows in blocks of `LANES`, coordinate by coordinate, padded with zero, which never changes a maximum.
    let rows = axes[0].len();
    let side_by_side = |from: usize| {
        axes.iter().map(move |axis| core::array::from_fn(|i| axis.get(from + i).copied().unwrap_or(0.0)))
    };
    let lanes: Vec<[f64; LANES]> = (0..rows).step_by(LANES).flat_map(side_by_side).collect();
    let largest = |direction: &[f64]| {
        let mut most = [0.0_f64; LANES];
        for group in lanes.chunks_exact(axes.len()) {
            let mut along = [0.0; LANES];
            let mut add = |axis: &[f64; LANES], d: f64| {
                for (sum, a) in along.iter_mut().zip(axis) {
                    *sum += a * d;
                }
            };
            // Four dimensions are by far the most common case, and the most expensive.
            if let ([a, b, c, d], [p, q, r, s]) = (group, direction) {
                add(a, *p);
                add(b, *q);
                add(c, *r);
                add(d, *s);
            } else {
                group.iter().zip(direction).for_each(|(axis, d)| add(axis, *d));
            }
            for (most, v) in most.iter_mut().zip(along) {
                *most = if v.abs() > *most { v.abs() } else { *most };
            }
        }
        most.into_iter().fold(0.0, |most, v| if v > most { v } else { most })
    };
    let mut all: Vec<f64> = directions.chunks_exact(axes.len()).map(largest).collect();
    all.sort_unstable_by(f64::total_cmp);
    let size = if axes.len() == 2 { 1 } else { all.len().div_ceil(GROUPS) };
    all.chunks(size).map(|c| c.iter().sum::<f64>() / c.len() as f64).collect()
}

/// The k at which the mean over scales and shares of P(length <= k / (share root)) is `level`, by false position with halving
/// (the Illinois method) from the pointwise factor up.
fn solve(shares: &[f64], roots: &[Part], dimension: usize, pointwise: f64, level: f64) -> f64 {
    let missed = |k: f64| -> f64 {
        let of = |root: &Part| -> f64 {
            let sum: f64 = shares
                .iter()
                .map(|s| {
                    let length = k / (s * root.u);
                    length_above(length * length, dimension)
                })
                .sum();
            root.weight * sum
        };
        roots.iter().map(of).sum::<f64>() / shares.len() as f64
    };
    let goal = 1.0 - level;
    let (mut low, mut high) = (pointwise, 1.6 * pointwise);
    let (mut below, mut above) = (goal - missed(low), goal - missed(high));
    if below >= 0.0 {
        return low;
    }
    for _ in 0..100 {
        if above > 0.0 {
            break;
        }
        (low, below) = (high, above);
        high *= 1.6;
        above = goal - missed(high);
    }
    let mut rose = None;
    for _ in 0..60 {
        let k = low + (high - low) * (below / (below - above));
        let miss = goal - missed(k);
        if miss.abs() < 1e-10 || high - low < 1e-10 * high {
            return k;
        }
        if miss < 0.0 {
            (low, below) = (k, miss);
            above *= if rose == Some(true) { 0.5 } else { 1.0 };
            rose = Some(true);
        } else {
            (high, above) = (k, miss);
            below *= if rose == Some(false) { 0.5 } else { 1.0 };
            rose = Some(false);
        }
    }
    0.5 * (low + high)
}

/// Probability that the squared length of a standard normal vector of this dimension is above `square`. Closed forms where
/// there are any.
fn length_above(square: f64, dimension: usize) -> f64 {
    match dimension {
        2 => libm::exp(-0.5 * square),
        3 => {
            let x = square.sqrt();
            2.0 * (dist::normal_sf(x) + x * dist::normal_pdf(x))
        }
        4 => (1.0 + 0.5 * square) * libm::exp(-0.5 * square),
        m => dist::chi2_sf(square, m as f64),
    }
}
