//! Whether repeated measurements of one thing agree: the scatter of repeats against the claimed uncertainty.

use crate::dist;

/// A test of agreement: the sum of squares of repeats about their means, in claimed standard deviations.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Agreement {
    /// Sum of squares over claimed variances.
    pub chi2: f64,
    /// Degrees of freedom.
    pub dof: usize,
}

impl Agreement {
    /// Adds values that should be equal, each with its claimed standard deviation (above zero): the sum of squares
    /// about their weighted mean, with one degree of freedom fewer than values.
    pub fn add(&mut self, values: impl Iterator<Item = Repeat> + Clone) {
        let (mut weight, mut sum, mut count) = (0.0, 0.0, 0_usize);
        for v in values.clone().filter(Repeat::usable) {
            weight += 1.0 / (v.sd * v.sd);
            sum += v.value / (v.sd * v.sd);
            count += 1;
        }
        if count < 2 {
            return;
        }
        let mean = sum / weight;
        self.chi2 += values
            .filter(Repeat::usable)
            .map(|v| ((v.value - mean) / v.sd) * ((v.value - mean) / v.sd))
            .sum::<f64>();
        self.dof += count - 1;
    }

    /// Adds those of other things.
    pub const fn join(&mut self, other: Self) {
        self.chi2 += other.chi2;
        self.dof += other.dof;
    }

    /// Probability of at least this much scatter if the claim is right; 1 without repeats.
    pub fn p(&self) -> f64 {
        if self.dof == 0 { 1.0 } else { dist::chi2_sf(self.chi2, self.dof as f64) }
    }

    /// The ratio of the variance to the claimed variance; 1 without repeats.
    pub fn ratio(&self) -> f64 {
        if self.dof == 0 { 1.0 } else { self.chi2 / self.dof as f64 }
    }

    /// The factor by which the variance would have to grow to explain it; at least 1.
    pub fn excess(&self) -> f64 {
        self.ratio().max(1.0)
    }
}

/// One of several values that should be equal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Repeat {
    pub value: f64,
    /// Its claimed standard deviation.
    pub sd: f64,
}

impl Repeat {
    fn usable(&self) -> bool {
        self.sd > 0.0 && self.value.is_finite()
    }
}
