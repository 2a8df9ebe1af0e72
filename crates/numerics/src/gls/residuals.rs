//! Residuals of a fit with correlated values, each compared with what the other values predict.

use super::System;
use crate::dd::Dd;
use crate::dist;

/// One entry per value in each list.
#[derive(Clone, Debug, PartialEq)]
pub struct Residuals {
    /// Value less fitted value.
    pub raw: Vec<f64>,
    /// The share of fitted value i that comes from value i itself, 0 to 1, in the metric of V (the usual leverage if
    /// there is no correlation). Near 1, the other values cannot check this one.
    pub leverage: Vec<f64>,
    /// The error of value i as estimated from the other values, divided by its standard uncertainty from V: standard
    /// normal if V is right. `None` if the other values cannot check it.
    pub standardised: Vec<Option<f64>>,
    /// Trace of P = V^-1 - V^-1 X (X' V^-1 X)^-1 X' V^-1: how much chi-squared grows, on average, for each unit of
    /// variance that every value has beyond V.
    pub trace: f64,
    /// Residual chi-squared.
    chi2: f64,
    /// Degrees of freedom.
    dof: usize,
}

/// How far a value departs from what the others predict.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Departure {
    /// In standard deviations: from V, or from the scatter of the other values if that is larger.
    pub t: f64,
    /// Two-sided probability that the largest departure of all the values is this large by chance (Bonferroni), at
    /// most 1.
    pub p: f64,
}

/// With fewer degrees of freedom than this among the other values, scatter cannot be told from a single wrong value.
const LEAST_DOF: usize = 3;

impl Residuals {
    /// The departure of each value: t_i = z_i / sqrt(max(1, (chi2 - z_i^2)/(dof - 1))) with Student's t on dof - 1.
    /// `None` if the others cannot check it, or fewer than three degrees of freedom remain without it.
    pub fn departures(&self) -> Vec<Option<Departure>> {
        let others = self.dof.saturating_sub(1);
        if others < LEAST_DOF {
            return vec![None; self.standardised.len()];
        }
        let count = self.standardised.iter().flatten().count() as f64;
        let departure = |z: f64| {
            let rest = ((self.chi2 - z * z) / others as f64).max(1.0);
            let t = z / rest.sqrt();
            Departure { t, p: (2.0 * count * dist::t_sf(t.abs(), others as f64)).min(1.0) }
        };
        self.standardised.iter().map(|z| z.map(departure)).collect()
    }
}

/// Let P be the inverse of V and X C X' P the fit. The error of value i estimated from the others is (P r)_i over
/// free_i = P_ii - (P X C X' P)_ii, with variance 1 / free_i. With C = A A', the second part is the squared length of
/// row i of P X A. Plain `f64` is enough here; r itself comes from the fit in full precision.
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
    let mut out = Residuals {
        raw,
        leverage: Vec::with_capacity(count),
        standardised: Vec::with_capacity(count),
        trace: precision.iter().zip(&explained).map(|(p, e)| p - e).sum(),
        chi2,
        dof,
    };
    for i in 0..count {
        let leverage = (explained[i] / precision[i]).clamp(0.0, 1.0);
        out.leverage.push(leverage);
        let free = precision[i] - explained[i];
        out.standardised.push((dof > 0 && 1.0 - leverage > 1e-9).then(|| weighed[i] / free.sqrt()));
    }
    out
}
