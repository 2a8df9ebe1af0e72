//! What the residuals of a fit say about scatter beyond the known covariance, without a prior, a threshold or an
//! iteration. The residual chi-squared S on nu degrees of freedom is equally likely to be at any quantile of its
//! distribution. So each of K equally likely quantiles q gives a scale phi = max(1, S/q), and with it a variance
//! tau^2 = (phi - 1) nu/tr(P) that every value would have beyond its covariance.

use crate::dist;
use crate::mixture::{Mixture, Part};
use std::sync::{Arc, OnceLock};

/// The number K of equally likely quantiles.
const STEPS: u32 = 200;
/// Quantiles are cached for up to this many degrees of freedom.
const KEPT: usize = 32;

/// One scale that the scatter may have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// Its weight; the weights add up to 1.
    pub weight: f64,
    /// The factor by which the known covariance would have to grow.
    pub phi: f64,
    /// The variance that every value would have beyond its covariance.
    pub tau2: f64,
}

/// The scales that the scatter may have, in rising order.
#[derive(Clone, Debug, PartialEq)]
pub struct Scatter(Vec<Share>);

/// The variance of a linear combination of the values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Variance {
    /// From the known covariance.
    pub known: f64,
    /// How much it grows with a unit of tau^2 on every value.
    pub per_tau2: f64,
    /// What the scatter is attributed to.
    pub cause: Cause,
}

/// What scatter beyond the known covariance is attributed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// The things measured: known + tau^2 per_tau2.
    Things,
    /// The things measured, or a covariance larger than known (phi known): the larger of the two, which allows for
    /// either and for every mixture of them.
    Either,
}

impl Scatter {
    /// From the residual chi-squared of a fit, its degrees of freedom and tr(P) (see
    /// [`crate::gls::Residuals::trace`]). `None` without degrees of freedom: then nothing is known about the scatter.
    pub fn of(chi2: f64, dof: usize, trace: f64) -> Option<Self> {
        if dof == 0 {
            return None;
        }
        let per_tau2 = dof as f64 / trace;
        let step = 1.0 / f64::from(STEPS);
        let mut shares: Vec<Share> = Vec::new();
        // From the largest quantile down, so that the scale rises.
        let mut add = |q: f64| {
            let phi = (chi2 / q).max(1.0);
            match shares.last_mut() {
                Some(last) if last.phi == phi => last.weight += step,
                _ => shares.push(Share { weight: step, phi, tau2: (phi - 1.0) * per_tau2 }),
            }
        };
        match quantiles(dof) {
            Some(kept) => kept.iter().rev().for_each(|q| add(*q)),
            None => (0..STEPS).rev().for_each(|k| add(quantile(dof, k))),
        }
        Some(Self(shares))
    }

    /// The scales, in rising order.
    pub fn shares(&self) -> &[Share] {
        &self.0
    }

    /// The distribution of the error of a quantity.
    pub fn error(&self, of: Variance) -> Mixture {
        if of.cause == Cause::Things && of.per_tau2 == 0.0 {
            return Mixture::normal(of.known.sqrt());
        }
        let u = |s: &Share| {
            let things = of.known + s.tau2 * of.per_tau2;
            match of.cause {
                Cause::Things => things.sqrt(),
                Cause::Either => things.max(s.phi * of.known).sqrt(),
            }
        };
        Mixture::new(self.0.iter().map(|s| Part { weight: s.weight, u: u(s) }).collect())
    }

    /// The median of the scatter's standard deviation.
    pub fn tau(&self) -> f64 {
        let mut below = 0.0;
        for share in &self.0 {
            below += share.weight;
            if below >= 0.5 {
                return share.tau2.sqrt();
            }
        }
        0.0
    }
}

/// The error of one quantity: its variance, and the scatter it shares with others.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    scatter: Option<Arc<Scatter>>,
    variance: Variance,
}

impl Spread {
    /// Normal with this standard uncertainty.
    pub fn normal(u: f64) -> Self {
        Self { scatter: None, variance: Variance { known: u * u, per_tau2: 0.0, cause: Cause::Things } }
    }

    /// This variance under each scale that `scatter` may have.
    pub fn of(scatter: Arc<Scatter>, variance: Variance) -> Self {
        Self { scatter: Some(scatter), variance }
    }

    /// Its distribution.
    pub fn error(&self) -> Mixture {
        match &self.scatter {
            Some(scatter) => scatter.error(self.variance),
            None => Mixture::normal(self.variance.known.sqrt()),
        }
    }
}

/// Quantile k of K of chi-squared: at (k + 1/2)/K, k from 0.
fn quantile(dof: usize, k: u32) -> f64 {
    static NORMAL: [OnceLock<f64>; STEPS as usize] = [const { OnceLock::new() }; STEPS as usize];
    let p = (f64::from(k) + 0.5) / f64::from(STEPS);
    let normal = NORMAL[k as usize].get_or_init(|| dist::normal_quantile(p));
    dist::chi2_quantile_from(*normal, p, dof as f64)
}

/// All quantiles in rising order, computed once for each number of degrees of freedom up to `KEPT`.
fn quantiles(dof: usize) -> Option<&'static [f64]> {
    static TABLES: [OnceLock<Vec<f64>>; KEPT] = [const { OnceLock::new() }; KEPT];
    let table = TABLES.get(dof.checked_sub(1)?)?;
    Some(table.get_or_init(|| (0..STEPS).map(|k| quantile(dof, k)).collect()))
}
