//! A straight trend by ordinary least squares, and whether it could be chance.

use crate::dist;

/// A trend of y over x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trend {
    /// Change of y per unit of x.
    pub slope: f64,
    /// Its standard error, from the scatter about the line; 0 if there is none.
    pub u: f64,
    /// Two-sided probability of a slope this large by chance (Student's t, n - 2 degrees of freedom).
    pub p: f64,
}

/// The trend of `y` over `x`, pair by pair; `None` for fewer than three pairs or if all x are equal.
///
/// NIST/SEMATECH e-Handbook of Statistical Methods, 4.1.4.1 (least squares); checked against the StRD set Norris.
pub fn trend(x: &[f64], y: &[f64]) -> Option<Trend> {
    let count = x.len().min(y.len());
    if count < 3 {
        return None;
    }
    let (x, y, n) = (&x[..count], &y[..count], count as f64);
    let (middle, mean) = (x.iter().sum::<f64>() / n, y.iter().sum::<f64>() / n);
    let squares: f64 = y.iter().map(|v| (v - mean) * (v - mean)).sum();
    let sxx: f64 = x.iter().map(|v| (v - middle) * (v - middle)).sum();
    if sxx == 0.0 {
        return None;
    }
    let sxy: f64 = x.iter().zip(y).map(|(a, b)| (a - middle) * (b - mean)).sum();
    let slope = sxy / sxx;
    let left = (squares - slope * sxy).max(0.0);
    let u = libm::sqrt(left / (n - 2.0) / sxx);
    let p = if u > 0.0 {
        2.0 * dist::t_sf((slope / u).abs(), n - 2.0)
    } else if slope == 0.0 {
        1.0
    } else {
        0.0
    };
    Some(Trend { slope, u, p })
}
