//! A straight line through points of known uncertainty, in y or in both directions (ISO/TS 28037:2010 clauses 6 and 7).
//!
//! Uncertainties are taken as known: they are not scaled by the scatter, which `chi2` judges.

use crate::dd::Dd;

/// Why there is no line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum LineError {
    /// Lists of different length.
    #[error("lists differ in length")]
    Lengths,
    /// Fewer than two different x.
    #[error("a line needs at least two different places")]
    OnePlace,
    /// A number that is not finite, or a point without uncertainty, in this row (counted from 0).
    #[error("row {0} (counted from 0) is not finite or has no uncertainty")]
    BadRow(usize),
    /// The iteration for uncertainties in both directions did not settle.
    #[error("no line was found: the uncertainties along x are too large")]
    NotSettled,
}

/// y = `intercept` + `slope` x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KnownLine {
    /// y at x = 0.
    pub intercept: f64,
    /// Rise of y per x.
    pub slope: f64,
    /// Standard uncertainty of the intercept.
    pub intercept_uncertainty: f64,
    /// Standard uncertainty of the slope.
    pub slope_uncertainty: f64,
    /// Covariance of the two.
    pub covariance: f64,
    /// Sum of squared residuals over their uncertainties.
    pub chi2: f64,
    /// Points less two.
    pub dof: usize,
}

impl KnownLine {
    /// y at `x` and its standard uncertainty, with that of `x` in it.
    pub fn forward(&self, x: f64, x_uncertainty: f64) -> (f64, f64) {
        let own = self.slope * x_uncertainty;
        (self.intercept + self.slope * x, (self.variance_at(x) + own * own).sqrt())
    }

    /// The x at which the line takes `y`, and its standard uncertainty, with that of `y` in it.
    pub fn inverse(&self, y: f64, y_uncertainty: f64) -> (f64, f64) {
        let x = (y - self.intercept) / self.slope;
        let square = self.variance_at(x) + y_uncertainty * y_uncertainty;
        (x, square.sqrt() / self.slope.abs())
    }

    fn variance_at(&self, x: f64) -> f64 {
        let (a, b) = (self.intercept_uncertainty, x * self.slope_uncertainty);
        a * a + b * b + 2.0 * x * self.covariance
    }
}

/// The line for known uncertainties of y.
///
/// # Errors
/// See [`LineError`].
pub fn weighted(x: &[f64], y: &[f64], y_uncertainty: &[f64]) -> Result<KnownLine, LineError> {
    both(x, y, &vec![0.0; x.len()], y_uncertainty)
}

/// The line for known, independent uncertainties of x and y (York's iteration: D. York and others, Am. J. Phys. 72, 2004).
///
/// # Errors
/// See [`LineError`].
pub fn both(
    x: &[f64],
    y: &[f64],
    x_uncertainty: &[f64],
    y_uncertainty: &[f64],
) -> Result<KnownLine, LineError> {
    if [y.len(), x_uncertainty.len(), y_uncertainty.len()].iter().any(|n| *n != x.len()) {
        return Err(LineError::Lengths);
    }
    let usable = |i: usize| {
        let (p, q) = (x_uncertainty[i], y_uncertainty[i]);
        [x[i], y[i], p, q].iter().all(|v| v.is_finite()) && p >= 0.0 && q >= 0.0 && p.max(q) > 0.0
    };
    if let Some(row) = (0..x.len()).find(|i| !usable(*i)) {
        return Err(LineError::BadRow(row));
    }
    if x.iter().all(|v| *v == x[0]) {
        return Err(LineError::OnePlace);
    }
    let points = Points { x, y, ux: x_uncertainty, uy: y_uncertainty };
    let mut slope = points.plain_slope();
    for _ in 0..500 {
        let next = points.step(slope).slope();
        if !next.is_finite() {
            return Err(LineError::NotSettled);
        }
        let change = (next - slope).to_f64().abs();
        slope = next;
        if change <= 1e-15 * slope.to_f64().abs() {
            return Ok(points.finish(slope));
        }
    }
    Err(LineError::NotSettled)
}

struct Points<'a> {
    x: &'a [f64],
    y: &'a [f64],
    ux: &'a [f64],
    uy: &'a [f64],
}

/// The sums of one step.
struct Step {
    weights: Vec<Dd>,
    /// Adjusted x, less `middle_x`.
    adjusted: Vec<Dd>,
    middle_x: Dd,
    middle_y: Dd,
    across: Dd,
    along: Dd,
}

impl Step {
    fn slope(&self) -> Dd {
        self.across / self.along
    }
}

impl Points<'_> {
    fn plain_slope(&self) -> Dd {
        let count = Dd::new(self.x.iter().map(|_| 1.0).sum());
        let mean = |v: &[f64]| v.iter().map(|v| Dd::new(*v)).sum::<Dd>() / count;
        let (mx, my) = (mean(self.x), mean(self.y));
        let (mut across, mut along) = (Dd::ZERO, Dd::ZERO);
        for (&x, &y) in self.x.iter().zip(self.y) {
            across += (Dd::new(x) - mx) * (Dd::new(y) - my);
            along += (Dd::new(x) - mx).square();
        }
        across / along
    }

    fn step(&self, slope: Dd) -> Step {
        let square = |u: f64| Dd::from_product(u, u);
        let weights: Vec<Dd> = self
            .ux
            .iter()
            .zip(self.uy)
            .map(|(&p, &q)| Dd::ONE / (square(q) + slope.square() * square(p)))
            .collect();
        let total: Dd = weights.iter().copied().sum();
        let mean = |v: &[f64]| weights.iter().zip(v).map(|(w, v)| *w * *v).sum::<Dd>() / total;
        let (middle_x, middle_y) = (mean(self.x), mean(self.y));
        let mut step =
            Step { weights, adjusted: Vec::new(), middle_x, middle_y, across: Dd::ZERO, along: Dd::ZERO };
        for i in 0..self.x.len() {
            let (u, v) = (Dd::new(self.x[i]) - middle_x, Dd::new(self.y[i]) - middle_y);
            let w = step.weights[i];
            let adjusted = w * (u * square(self.uy[i]) + slope * v * square(self.ux[i]));
            step.across += w * adjusted * v;
            step.along += w * adjusted * u;
            step.adjusted.push(adjusted);
        }
        step
    }

    fn finish(&self, slope: Dd) -> KnownLine {
        let step = self.step(slope);
        let intercept = step.middle_y - slope * step.middle_x;
        let total: Dd = step.weights.iter().copied().sum();
        let weighed = step.weights.iter().zip(&step.adjusted);
        let middle = weighed.clone().map(|(w, a)| *w * *a).sum::<Dd>() / total;
        let spread: Dd = weighed.map(|(w, a)| *w * (*a - middle).square()).sum();
        let centre = step.middle_x + middle;
        let slope_variance = Dd::ONE / spread;
        let residual = |i: usize| Dd::new(self.y[i]) - intercept - slope * self.x[i];
        let chi2: Dd = (0..self.x.len()).map(|i| step.weights[i] * residual(i).square()).sum();
        KnownLine {
            intercept: intercept.to_f64(),
            slope: slope.to_f64(),
            intercept_uncertainty: (Dd::ONE / total + centre.square() * slope_variance).sqrt().to_f64(),
            slope_uncertainty: slope_variance.sqrt().to_f64(),
            covariance: (-(centre * slope_variance)).to_f64(),
            chi2: chi2.to_f64(),
            dof: self.x.len() - 2,
        }
    }
}
