//! Generalised least squares for a polynomial whose values have a known covariance: independent parts and shared
//! parts.
//!
//! The covariance is V = diag(s^2) + sum over j of c_j c_j' ([`Covariance`]). Whitening applies the exact inverse
//! square root of each shared part, which costs n operations and not n^3; V is never factored or inverted as a
//! matrix. The whitened problem is solved by Householder QR. Everything runs in double-double.

use crate::dd::Dd;
use crate::householder::{Order, Reduced};
use crate::{dist, dot};

mod covariance;
mod residuals;
mod weights;

pub use covariance::Covariance;
pub use residuals::{Departure, Residuals};

/// The given places do not determine a power of eta whose share independent of the lower powers is below this.
const DEPENDENCE: f64 = 1e-12;

/// Why there is no fit.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum GlsError {
    /// `eta`, `values` and the covariance differ in length.
    #[error("{values} values, but {found} places or uncertainties")]
    Lengths {
        /// Number of values.
        values: usize,
        /// The other number found.
        found: usize,
    },
    /// Fewer values, or fewer different places, than coefficients.
    #[error("{values} values at {places} different places cannot determine {coefficients} coefficients")]
    TooFew {
        /// Values given.
        values: usize,
        /// Different places among them, as far as the arithmetic can tell them apart.
        places: usize,
        /// Coefficients asked for.
        coefficients: usize,
    },
    /// This value (counted from 0) has no uncertainty of its own above zero: the covariance is not positive definite.
    #[error("value {0} (counted from 0) has no uncertainty of its own; a measured value always has some")]
    NoOwnUncertainty(usize),
    /// A number that is not finite.
    #[error("a number is not finite")]
    NotFinite,
}

/// A polynomial fitted by generalised least squares.
#[derive(Clone, Debug, PartialEq)]
pub struct GlsFit {
    /// The order p of the polynomial; there are p + 1 coefficients, from the constant up.
    pub order: usize,
    pub coefficients: Vec<f64>,
    /// Covariance of the coefficients, from V.
    pub covariance: Vec<Vec<f64>>,
    /// Residual chi-squared against V.
    pub chi2: f64,
    /// Number of values less number of coefficients.
    pub dof: usize,
    /// Probability of a chi-squared at least this large if V is right; 1 without degrees of freedom.
    pub chi2_p: f64,
    pub residuals: Residuals,
}

/// Fits a polynomial of `order` in `eta` to `values` with covariance `covariance`.
///
/// # Errors
/// See [`GlsError`].
pub fn fit(eta: &[f64], values: &[f64], covariance: &Covariance, order: usize) -> Result<GlsFit, GlsError> {
    let system = System::new(eta, values, covariance, order)?;
    if system.independent <= order {
        let (values, coefficients) = (values.len(), order + 1);
        return Err(GlsError::TooFew { values, places: system.independent, coefficients });
    }
    Ok(system.fit(order))
}

impl GlsFit {
    /// The value of a linear combination of the coefficients (see [`deviation_row`], [`change_row`]).
    pub fn value(&self, row: &[f64]) -> f64 {
        dot(row, &self.coefficients)
    }

    /// Standard uncertainty by V of a linear combination of the coefficients.
    pub fn uncertainty(&self, row: &[f64]) -> f64 {
        row.iter().zip(&self.covariance).map(|(x, line)| x * dot(line, row)).sum::<f64>().max(0.0).sqrt()
    }
}

/// The combination of coefficients that gives the polynomial at `eta`: 1, eta, eta^2 ...
pub fn deviation_row(order: usize, eta: f64) -> Vec<f64> {
    let mut power = 1.0;
    (0..=order)
        .map(|_| {
            let now = power;
            power *= eta;
            now
        })
        .collect()
}

/// The combination of coefficients that gives the polynomial at `eta` less the polynomial at 0: 0, eta, eta^2 ...
pub fn change_row(order: usize, eta: f64) -> Vec<f64> {
    let mut row = deviation_row(order, eta);
    row[0] = 0.0;
    row
}

/// The whitened and reduced problem.
struct System<'a> {
    eta: &'a [f64],
    values: &'a [f64],
    whitening: covariance::Whitening,
    reduced: Reduced,
    /// Whitened values in the rotated basis: entry k belongs to power k, the rest is residual.
    rotated: Vec<Dd>,
    /// How many powers, from the constant up, the places determine.
    independent: usize,
}

impl<'a> System<'a> {
    fn new(
        eta: &'a [f64],
        values: &'a [f64],
        covariance: &Covariance,
        order: usize,
    ) -> Result<Self, GlsError> {
        let count = values.len();
        for found in [eta.len(), covariance.count()] {
            if found != count {
                return Err(GlsError::Lengths { values: count, found });
            }
        }
        if !eta.iter().chain(values).all(|v| v.is_finite()) {
            return Err(GlsError::NotFinite);
        }
        let whitening = covariance.whitening()?;
        let powers = (order + 1).min(count);
        let mut columns = Vec::with_capacity(powers);
        let mut power = vec![Dd::ONE; count];
        for k in 0..powers {
            if k > 0 {
                power.iter_mut().zip(eta).for_each(|(p, &e)| *p = *p * e);
            }
            let mut column = power.clone();
            whitening.apply(&mut column);
            columns.push(column);
        }
        let (reduced, independent) = match Reduced::new(columns, Order::Given, DEPENDENCE) {
            Ok(reduced) => (reduced, powers),
            Err(dependent) => (dependent.reduced, dependent.rank),
        };
        let mut rotated: Vec<Dd> = values.iter().map(|v| Dd::new(*v)).collect();
        whitening.apply(&mut rotated);
        reduced.rotate(&mut rotated);
        Ok(Self { eta, values, whitening, reduced, rotated, independent })
    }

    fn fit(&self, order: usize) -> GlsFit {
        let size = order + 1;
        let dof = self.values.len() - size;
        let solution = self.reduced.solve(size, &self.rotated);
        let inverse = self.reduced.inverse(size);
        let mut covariance = vec![vec![0.0; size]; size];
        for i in 0..size {
            for j in 0..=i {
                let c = Dd::dot(&inverse[i][i..], &inverse[j][i..]).to_f64();
                covariance[i][j] = c;
                covariance[j][i] = c;
            }
        }
        let tail = &self.rotated[size..];
        let chi2 = Dd::dot(tail, tail).to_f64();
        let degrees = dof as f64;
        let chi2_p = if dof > 0 { dist::chi2_sf(chi2, degrees) } else { 1.0 };
        GlsFit {
            order,
            residuals: residuals::of(self, &solution, &inverse, chi2, dof),
            coefficients: solution.iter().map(|b| b.to_f64()).collect(),
            covariance,
            chi2,
            dof,
            chi2_p,
        }
    }
}
