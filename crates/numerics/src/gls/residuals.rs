//! Residuals of a fit with correlated values, each judged with what the others say about it.

use super::System;
use crate::dd::Dd;
use crate::dist;

/// One entry per value in each list.
#[derive(Clone, Debug, PartialEq)]
pub struct Residuals {
    /// Value less fitted value.
    pub raw: Vec<f64>,
    /// The share of value i that the fit takes from value i itself, 0 to 1, in the metric of V
    /// (without correlation the usual leverage). Near 1 the other values cannot check this one.
    pub leverage: Vec<f64>,
    /// The error of value i as the other values estimate it, over its standard uncertainty by V: standard normal
    /// if V is right. `None` where the other values cannot check it.
    pub standardised: Vec<Option<f64>>,
    /// The same over the scatter of the other values instead of V (externally studentised): Student's t with
    /// [`Residuals::dof`]. `None` where the other values cannot check it or leave no degrees of freedom.
    pub studentised: Vec<Option<f64>>,
    /// Degrees of freedom of the studentised residuals: one less than the fit's.
    pub dof: usize,
}

impl Residuals {
    /// The limit that the largest studentised residual passes with at most probability `alpha` when nothing is wrong
    /// (Bonferroni over the values that can be checked). `None` where no value can be.
    pub fn limit(&self, alpha: f64) -> Option<f64> {
        let count = self.studentised.iter().flatten().count();
        #[expect(clippy::cast_precision_loss, reason = "a few stations, far below 2^53")]
        (count > 0).then(|| dist::bonferroni_t(alpha, count, self.dof as f64))
    }

    /// The values (counted from 0) whose studentised residual passes [`Residuals::limit`].
    pub fn suspects(&self, alpha: f64) -> Vec<usize> {
        let sizes = self.studentised.iter().flatten().map(|t| t.abs());
        let (count, largest) = sizes.fold((0.0, 0.0_f64), |(n, most), t| (n + 1.0, most.max(t)));
        #[expect(clippy::cast_precision_loss, reason = "a few stations, far below 2^53")]
        let dof = self.dof as f64;
        // Mostly none does, and the probability of the largest is found sooner than the limit.
        if count == 0.0 || 2.0 * count * dist::t_sf(largest, dof) > alpha {
            return Vec::new();
        }
        let Some(limit) = self.limit(alpha) else {
            return Vec::new();
        };
        let passes = |t: &Option<f64>| t.is_some_and(|t| t.abs() > limit);
        (0..self.studentised.len()).filter(|i| passes(&self.studentised[*i])).collect()
    }
}

/// With P the inverse of V and X C X' P the fit: the error of value i estimated from the others is (P r)_i over
/// free_i = P_ii - (P X C X' P)_ii, and its variance 1 / free_i. With C = A A' the second part is the squared length of row i
/// of P X A. Plain `f64` is enough here; r itself comes from the fit with all its digits.
pub(super) fn of(system: &System<'_>, solution: &[Dd], root: &[Vec<Dd>], chi2: f64, dof: usize) -> Residuals {
    let count = system.values.len();
    let raw: Vec<f64> = (0..count)
        .map(|i| {
            let fitted = solution.iter().rev().fold(Dd::ZERO, |sum, &b| sum * system.eta[i] + b);
            (Dd::new(system.values[i]) - fitted).to_f64()
        })
        .collect();
    let mut weighed = raw.clone();
    system.whitening.apply_precision(&mut weighed);
    let precision = system.whitening.precision();
    let mut explained = vec![0.0; count];
    for k in 0..solution.len() {
        let mut column: Vec<f64> = system
            .eta
            .iter()
            .map(|eta| root.iter().rev().fold(0.0, |sum, row| sum * eta + row[k].to_f64()))
            .collect();
        system.whitening.apply_precision(&mut column);
        explained.iter_mut().zip(&column).for_each(|(e, c)| *e += c * c);
    }
    let others = dof.saturating_sub(1);
    let mut out = Residuals {
        raw,
        leverage: Vec::with_capacity(count),
        standardised: Vec::with_capacity(count),
        studentised: Vec::with_capacity(count),
        dof: others,
    };
    for i in 0..count {
        let leverage = (explained[i] / precision[i]).clamp(0.0, 1.0);
        out.leverage.push(leverage);
        let free = precision[i] - explained[i];
        let standardised = (dof > 0 && 1.0 - leverage > 1e-9).then(|| weighed[i] / free.sqrt());
        out.standardised.push(standardised);
        out.studentised.push(standardised.filter(|_| others > 0).map(|z| {
            #[expect(clippy::cast_precision_loss, reason = "a few stations, far below 2^53")]
            let rest = (chi2 - z * z).max(0.0) / others as f64;
            if z == 0.0 { 0.0 } else { z / rest.sqrt() }
        }));
    }
    out
}
