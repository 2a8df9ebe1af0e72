//! Simultaneous bands: by what factor the standard uncertainty must be multiplied so that **all** of many linear
//! combinations of the same coefficients are covered at once (sup-t).
//!
//! With the coefficients' error written as length times direction, the length is integrated in closed form (chi-squared,
//! or F where the scale was estimated) and only the direction is averaged over. In one dimension there is one
//! direction and the factor is the pointwise one; in two and three dimensions the directions are an even fixed grid, so
//! that nothing is drawn; above, they are seeded draws. The result is the same on every machine.

use crate::dist::{self, chi2_cdf, f_cdf};
use crate::rng::Rng;

mod directions;

/// The factor for a band of `level` over all `rows` (each as long as there are coefficients), for coefficients of
/// covariance `covariance`, known (`dof` `None`) or with its scale estimated from `dof` degrees of freedom.
///
/// Rows without uncertainty do not count; if none has any, the factor is the pointwise one. `seed` matters only where
/// the rows span more than three dimensions.
pub fn simultaneous_factor(
    rows: &[Vec<f64>],
    covariance: &[Vec<f64>],
    dof: Option<f64>,
    level: f64,
    seed: u64,
) -> f64 {
    let units = unit_vectors(rows, covariance);
    let dimension = units.first().map_or(0, Vec::len);
    if dimension <= 1 {
        return dist::coverage_factor(level, dof);
    }
    let mut rng = Rng::new(seed);
    let shares = shares(directions::spread(dimension, &mut rng), &units);
    solve(&shares, dimension, dof, level)
}

/// Each row as a unit vector in the space of independent errors; their length is the dimension the rows really span.
fn unit_vectors(rows: &[Vec<f64>], covariance: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let root = directions::root(covariance);
    let mut vectors: Vec<Vec<f64>> = Vec::with_capacity(rows.len());
    for row in rows {
        let mut v: Vec<f64> = root.iter().map(|r| r.iter().zip(row).map(|(a, b)| a * b).sum()).collect();
        let length = dot(&v, &v).sqrt();
        if length > 0.0 && length.is_finite() {
            v.iter_mut().for_each(|x| *x /= length);
            vectors.push(v);
        }
    }
    directions::compress(&vectors)
}

/// For each direction the largest share any row takes of it, sorted and gathered into groups of equal count.
fn shares(directions: Vec<Vec<f64>>, units: &[Vec<f64>]) -> Vec<f64> {
    const GROUPS: usize = 64;
    let mut all: Vec<f64> =
        directions.iter().map(|d| units.iter().map(|u| dot(u, d).abs()).fold(0.0, f64::max)).collect();
    all.sort_by(f64::total_cmp);
    let size = all.len().div_ceil(GROUPS);
    #[expect(clippy::cast_precision_loss, reason = "a group has some dozen entries")]
    all.chunks(size).map(|c| c.iter().sum::<f64>() / c.len() as f64).collect()
}

/// The k at which the mean over the shares of P(length <= k / share) is `level`, by bisection and secant steps.
#[expect(clippy::cast_precision_loss, reason = "dimensions and groups are few")]
fn solve(shares: &[f64], dimension: usize, dof: Option<f64>, level: f64) -> f64 {
    let m = dimension as f64;
    let covered = |k: f64| -> f64 {
        let sum: f64 = shares
            .iter()
            .map(|s| {
                let square = (k / s) * (k / s);
                match dof {
                    None if dimension == 2 => -libm::expm1(-0.5 * square),
                    None => chi2_cdf(square, m),
                    Some(nu) if dimension == 2 => -libm::expm1(-0.5 * nu * libm::log1p(square / nu)),
                    Some(nu) => f_cdf(square / m, m, nu),
                }
            })
            .sum();
        sum / shares.len() as f64
    };
    let mut low = dist::coverage_factor(level, dof);
    let mut high = (m * dist::f_quantile(level, m, dof.unwrap_or(f64::INFINITY))).sqrt();
    let (mut below, mut above) = (covered(low) - level, covered(high) - level);
    if below >= 0.0 {
        return low;
    }
    if above <= 0.0 {
        return high;
    }
    for _ in 0..60 {
        if high - low < 1e-9 * high {
            break;
        }
        let k = low + (high - low) * (below / (below - above)).clamp(0.01, 0.99);
        let miss = covered(k) - level;
        if miss < 0.0 {
            (low, below) = (k, miss);
            above *= 0.5;
        } else {
            (high, above) = (k, miss);
            below *= 0.5;
        }
    }
    0.5 * (low + high)
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}
