//! The weight of each value in a linear combination of the fitted coefficients.

use super::{Covariance, GlsError, GlsFit, deviation_row};
use crate::dd::Dd;
use crate::dot;

impl GlsFit {
    /// The weights w for which `row` times the coefficients equals w times the values: w = V^-1 X C row, with X the
    /// powers of `eta` and C the covariance of the coefficients from V. One weight for each value.
    ///
    /// # Errors
    /// As for the fit: a value without independent uncertainty, or a number that is not finite.
    pub fn weights(&self, row: &[f64], eta: &[f64], covariance: &Covariance) -> Result<Vec<f64>, GlsError> {
        let whitening = covariance.whitening()?;
        let combined: Vec<f64> = self.covariance.iter().map(|c| dot(c, row)).collect();
        let mut v: Vec<Dd> = eta
            .iter()
            .map(|&e| {
                let powers = deviation_row(self.order, e);
                powers.iter().zip(&combined).fold(Dd::ZERO, |sum, (&p, &c)| sum + Dd::new(p) * c)
            })
            .collect();
        whitening.apply(&mut v);
        whitening.apply_transposed(&mut v);
        Ok(v.iter().map(|x| x.to_f64()).collect())
    }
}
