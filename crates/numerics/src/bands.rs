//! Simultaneous bands: by what factor the standard uncertainty must be multiplied so that **all** of many linear
//! combinations of the same coefficients are covered at once (sup-t).
//!
//! With the coefficients' error written as length times direction, the length is integrated in closed form (chi-squared,
//! or F where the scale was estimated) and only the direction is averaged over. In one dimension there is one
//! direction and the factor is the pointwise one; in two to four dimensions the directions are an even fixed grid, so
//! that nothing is drawn; above, they are seeded draws. The result is the same on every machine.

use crate::dist::{self, f_cdf};
use crate::rng::Rng;

mod directions;
mod space;

/// Directions that take about the same share are gathered into this many groups, to integrate the length once for each
/// (in two dimensions, where they are few, each stands for itself).
const GROUPS: usize = 32;

/// The factor for a band of `level` over all `rows` (each as long as there are coefficients), for coefficients of
/// covariance `covariance`, known (`dof` `None`) or with its scale estimated from `dof` degrees of freedom.
///
/// Rows without uncertainty do not count; if none has any, the factor is the pointwise one. `seed` matters only where
/// the rows span more than four dimensions.
pub fn simultaneous_factor(
    rows: &[Vec<f64>],
    covariance: &[Vec<f64>],
    dof: Option<f64>,
    level: f64,
    seed: u64,
) -> f64 {
    let axes = space::unit_vectors(rows, covariance);
    if axes.len() <= 1 {
        return dist::coverage_factor(level, dof);
    }
    let mut rng = Rng::new(seed);
    let shares = shares(&directions::spread(axes.len(), &mut rng), &axes);
    solve(&shares, axes.len(), dof, level)
}

/// For each direction the largest share any row takes of it, sorted and gathered into groups of equal count.
fn shares(directions: &[f64], axes: &[Vec<f64>]) -> Vec<f64> {
    let mut along = vec![0.0; axes[0].len()];
    let mut all: Vec<f64> = directions
        .chunks_exact(axes.len())
        .map(|direction| {
            along.fill(0.0);
            for (axis, d) in axes.iter().zip(direction) {
                for (sum, a) in along.iter_mut().zip(axis) {
                    *sum += a * d;
                }
            }
            along.iter().fold(0.0_f64, |m, v| if v.abs() > m { v.abs() } else { m })
        })
        .collect();
    all.sort_unstable_by(f64::total_cmp);
    let size = if axes.len() == 2 { 1 } else { all.len().div_ceil(GROUPS) };
    #[expect(clippy::cast_precision_loss, reason = "a group has some dozen entries")]
    all.chunks(size).map(|c| c.iter().sum::<f64>() / c.len() as f64).collect()
}

/// The k at which the mean over the shares of P(length <= k / share) is `level`, by false position with halving
/// (the Illinois method) between the pointwise factor and the one for every combination there is (Scheffe's).
#[expect(clippy::cast_precision_loss, reason = "dimensions and groups are few")]
fn solve(shares: &[f64], dimension: usize, dof: Option<f64>, level: f64) -> f64 {
    let covered = |k: f64| -> f64 {
        let sum: f64 = shares.iter().map(|s| length_below((k / s) * (k / s), dimension, dof)).sum();
        sum / shares.len() as f64
    };
    let m = dimension as f64;
    let mut low = dist::coverage_factor(level, dof);
    let mut high = (m * dist::f_quantile(level, m, dof.unwrap_or(f64::INFINITY))).sqrt();
    let (mut below, mut above) = (covered(low) - level, covered(high) - level);
    if below >= 0.0 {
        return low;
    }
    if above <= 0.0 {
        return high;
    }
    let mut rose = None;
    for _ in 0..60 {
        let k = low + (high - low) * (below / (below - above));
        let miss = covered(k) - level;
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

/// Probability that the squared length of a standard normal vector of this dimension, over the estimated scale if there
/// is one, is at most `square`. Closed forms where there are any.
#[expect(clippy::cast_precision_loss, reason = "dimensions are few")]
fn length_below(square: f64, dimension: usize, dof: Option<f64>) -> f64 {
    let m = dimension as f64;
    match (dof, dimension) {
        (None, 2) => -libm::expm1(-0.5 * square),
        (None, 3) => {
            let x = square.sqrt();
            1.0 - 2.0 * (dist::normal_sf(x) + x * dist::normal_pdf(x))
        }
        (None, 4) => 1.0 - (1.0 + 0.5 * square) * libm::exp(-0.5 * square),
        (None, _) => dist::chi2_cdf(square, m),
        (Some(nu), 2) => -libm::expm1(-0.5 * nu * libm::log1p(square / nu)),
        (Some(nu), 4) => {
            let x = square / nu;
            1.0 - libm::exp(-0.5 * nu * libm::log1p(x)) * (1.0 + 0.5 * nu * x / (1.0 + x))
        }
        (Some(nu), _) => f_cdf(square / m, m, nu),
    }
}
