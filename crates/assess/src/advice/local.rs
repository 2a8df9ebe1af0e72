//! Ribs that are odd by themselves: no support caused it and none removes it.
//!
//! Supports cause a tilt, a twist and a bow: at most a parabola along the span. If a station is far off the parabola
//! through the others, it is the rib (or the reading), wherever it is, also at the root or the tip.

use numerics::{dist, dot};

/// Unknowns of the parabola.
const SHAPES: usize = 3;
/// Fewer stations than this cannot show what is odd.
const LEAST: usize = 6;
/// Most ribs named.
const MOST: usize = 64;
/// Chance of naming a rib on a wing without an odd one (Bonferroni's bound over the stations, two-sided).
const ALPHA: f64 = 0.01;

/// A station's deviation from the design.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deviation {
    /// Relative place along the span.
    pub eta: f64,
    /// Measured less design, in degrees.
    pub deg: f64,
    /// Independent standard uncertainty, in degrees.
    pub u_deg: f64,
}

/// The odd stations, and the parabola through the others.
#[derive(Clone, Debug, PartialEq)]
pub struct Odd {
    /// Their positions in the list, ascending.
    pub places: Vec<usize>,
    coefficients: [f64; SHAPES],
}

impl Odd {
    /// Finds them, farthest first: at most a quarter of all stations and at most 64.
    pub fn among(stations: &[Deviation]) -> Self {
        let mut kept: Vec<usize> = (0..stations.len()).collect();
        let mut fit = parabola(stations, &kept);
        for _ in 0..MOST.min(stations.len() / 4) {
            if kept.len() <= LEAST {
                break;
            }
            let Some((far, t)) = fit.farthest(stations, &kept) else { break };
            let dof = (kept.len() - SHAPES - 1) as f64;
            if t < dist::bonferroni_t(ALPHA, kept.len(), dof) {
                break;
            }
            kept.retain(|i| *i != far);
            fit = parabola(stations, &kept);
        }
        let places = (0..stations.len()).filter(|i| kept.binary_search(i).is_err()).collect();
        Self { places, coefficients: fit.coefficients }
    }

    /// The parabola at a relative place, in degrees.
    pub fn at(&self, eta: f64) -> f64 {
        dot(&shapes(eta), &self.coefficients)
    }
}

struct Parabola {
    coefficients: [f64; SHAPES],
    /// Residual of each kept station, and its leverage.
    residuals: Vec<f64>,
    leverages: Vec<f64>,
}

impl Parabola {
    /// The kept station farthest off, in standard deviations of the others or in its own, whichever is larger.
    fn farthest(&self, stations: &[Deviation], kept: &[usize]) -> Option<(usize, f64)> {
        let dof = (kept.len().checked_sub(SHAPES + 1)?) as f64;
        let sum: f64 = self.residuals.iter().map(|r| r * r).sum();
        let t = |k: usize| {
            let free = (1.0 - self.leverages[k]).max(1e-6);
            let (r, own) = (self.residuals[k], stations[kept[k]].u_deg);
            let others = ((sum - r * r / free).max(0.0) / dof.max(1.0)).sqrt();
            (r / free.sqrt()).abs() / others.max(own).max(1e-9)
        };
        let all = (0..kept.len()).map(|k| (kept[k], t(k)));
        all.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
    }
}

fn shapes(eta: f64) -> [f64; SHAPES] {
    [1.0, eta, eta * eta]
}

/// Least squares by orthogonal columns (modified Gram-Schmidt).
fn parabola(stations: &[Deviation], kept: &[usize]) -> Parabola {
    let columns: Vec<Vec<f64>> =
        (0..SHAPES).map(|k| kept.iter().map(|i| shapes(stations[*i].eta)[k]).collect()).collect();
    let mut residuals: Vec<f64> = kept.iter().map(|i| stations[*i].deg).collect();
    let mut leverages = vec![0.0; kept.len()];
    let mut unit: Vec<Vec<f64>> = Vec::with_capacity(SHAPES);
    let (mut upper, mut right) = ([[0.0; SHAPES]; SHAPES], [0.0; SHAPES]);
    for (k, column) in columns.iter().enumerate() {
        let mut v = column.clone();
        for (j, q) in unit.iter().enumerate() {
            upper[j][k] = dot(q, &v);
            v.iter_mut().zip(q).for_each(|(x, y)| *x -= upper[j][k] * y);
        }
        upper[k][k] = dot(&v, &v).sqrt();
        let scale = if upper[k][k] > 1e-9 { 1.0 / upper[k][k] } else { 0.0 };
        v.iter_mut().for_each(|x| *x *= scale);
        right[k] = dot(&v, &residuals);
        residuals.iter_mut().zip(&v).for_each(|(r, q)| *r -= right[k] * q);
        leverages.iter_mut().zip(&v).for_each(|(h, q)| *h += q * q);
        unit.push(v);
    }
    let mut coefficients = [0.0; SHAPES];
    for k in (0..SHAPES).rev() {
        let rest: f64 = (k + 1..SHAPES).map(|j| upper[k][j] * coefficients[j]).sum();
        coefficients[k] = if upper[k][k] > 1e-9 { (right[k] - rest) / upper[k][k] } else { 0.0 };
    }
    Parabola { coefficients, residuals, leverages }
}
