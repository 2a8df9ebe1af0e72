//! The shape of a spar when its supports are moved.
//!
//! A uniform beam loaded only at its supports is a cubic between them, with deflection, slope and bending moment continuous
//! across each support and no moment at the ends (Euler-Bernoulli): the natural cubic spline through the supports. Beyond
//! the outer supports it is straight, and on two supports it is a straight line. The stiffness cancels.

/// Why there is no shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ElasticError {
    /// Fewer than two supports.
    #[error("a spar needs at least two supports")]
    TooFewSupports,
    /// Two supports (counted from 0 as given) are at the same place.
    #[error("supports {0} and {1} (counted from 0) are at the same place")]
    SamePlace(usize, usize),
    /// A number is not finite, or there are not as many displacements as supports.
    #[error("supports and displacements must be finite and equal in number")]
    BadInput,
}

/// The height of the spar at each station for these displacements of its supports, which may be in any order.
///
/// # Errors
/// See [`ElasticError`].
pub fn deflection(
    supports: &[f64],
    displacements: &[f64],
    stations: &[f64],
) -> Result<Vec<f64>, ElasticError> {
    let count = supports.len();
    let all = supports.iter().chain(displacements).chain(stations);
    if displacements.len() != count || !all.into_iter().all(|v| v.is_finite()) {
        return Err(ElasticError::BadInput);
    }
    if count < 2 {
        return Err(ElasticError::TooFewSupports);
    }
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|a, b| supports[*a].total_cmp(&supports[*b]));
    if let Some(pair) = order.windows(2).find(|p| supports[p[0]] == supports[p[1]]) {
        return Err(ElasticError::SamePlace(pair[0].min(pair[1]), pair[0].max(pair[1])));
    }
    let [x, z] = [supports, displacements].map(|v| order.iter().map(|i| v[*i]).collect::<Vec<f64>>());
    let bend = second_derivatives(&x, &z);
    Ok(stations.iter().map(|&s| shape(&x, &z, &bend, s)).collect())
}

/// Second derivatives at the supports, zero at the ends (the three-moment equations, solved forward and back).
fn second_derivatives(x: &[f64], z: &[f64]) -> Vec<f64> {
    let count = x.len();
    let (mut bend, mut factor) = (vec![0.0; count], vec![0.0; count]);
    for i in 1..count - 1 {
        let (left, right) = (x[i] - x[i - 1], x[i + 1] - x[i]);
        let kink = (z[i + 1] - z[i]) / right - (z[i] - z[i - 1]) / left;
        let pivot = 2.0 * (left + right) - left * factor[i - 1];
        factor[i] = right / pivot;
        bend[i] = (6.0 * kink - left * bend[i - 1]) / pivot;
    }
    for i in (1..count - 1).rev() {
        bend[i] -= factor[i] * bend[i + 1];
    }
    bend
}

fn shape(x: &[f64], z: &[f64], bend: &[f64], s: f64) -> f64 {
    let last = x.len() - 1;
    let bay = x.partition_point(|v| *v <= s).clamp(1, last) - 1;
    let (a, b) = (x[bay], x[bay + 1]);
    let length = b - a;
    let chord = (z[bay + 1] - z[bay]) / length;
    if s < a {
        return z[0] + (chord - length * bend[1] / 6.0) * (s - a);
    }
    if s > b {
        return z[last] + (chord + length * bend[last - 1] / 6.0) * (s - b);
    }
    let (p, q) = ((b - s) / length, (s - a) / length);
    let cubic = (p * p * p - p) * bend[bay] + (q * q * q - q) * bend[bay + 1];
    p * z[bay] + q * z[bay + 1] + cubic * length * length / 6.0
}
