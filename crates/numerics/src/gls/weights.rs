//! How much each value weighs in a linear combination of the fitted coefficients.

use super::{Covariance, GlsError, GlsFit, deviation_row};
use crate::dd::Dd;

impl GlsFit {
    /// The weights w such that `row` times the coefficients is w times the values: w = V^-1 X C row, with X the powers of
    /// `eta`, C the covariance of the coefficients that follows from V. One weight per value.
    ///
    /// # Errors
    /// As for the fit: a value without uncertainty of its own, or a number that is not finite.
    pub fn weights(&self, row: &[f64], eta: &[f64], covariance: &Covariance) -> Result<Vec<f64>, GlsError> {
        let whitening = covariance.whitening()?;
        let combined: Vec<f64> =
            self.covariance.iter().map(|c| c.iter().zip(row).map(|(c, r)| c * r).sum()).collect();
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

#[cfg(test)]
mod tests {
    use crate::gls::{Covariance, deviation_row, fit};

    #[test]
    fn weights_give_back_the_coefficients() {
        let eta = [0.0, 0.3, 0.5, 0.9, 1.0];
        let values = [0.1, -0.2, 0.05, 0.4, 0.3];
        let covariance = Covariance::new(vec![0.1, 0.2, 0.1, 0.3, 0.1])
            .with_shared(vec![0.2, 0.2, -0.2, 0.2, 0.0])
            .with_shared(vec![0.0, 0.01, 0.02, 0.03, 0.04]);
        for order in 0..=2 {
            let fitted = fit(&eta, &values, &covariance, order).unwrap();
            for place in [0.0, 0.4, 1.0] {
                let row = deviation_row(order, place);
                let weights = fitted.weights(&row, &eta, &covariance).unwrap();
                let sum: f64 = weights.iter().zip(&values).map(|(w, v)| w * v).sum();
                assert!((sum - fitted.value(&row)).abs() < 1e-12);
                assert!((covariance.uncertainty_of(&weights) - fitted.uncertainty(&row)).abs() < 1e-12);
            }
        }
    }
}
