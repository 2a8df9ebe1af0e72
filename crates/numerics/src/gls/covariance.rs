//! The covariance of a set of values: independent uncertainties on the diagonal, and parts that several values share.

use super::GlsError;
use crate::dd::Dd;
use crate::dot;

/// V = diag(own^2) + sum over the shared parts of c c'.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Covariance {
    own: Vec<f64>,
    shared: Vec<Vec<f64>>,
}

impl Covariance {
    /// Values with these independent standard uncertainties.
    pub fn new(own: Vec<f64>) -> Self {
        Self { own, shared: Vec::new() }
    }

    /// Adds one shared part. Entry i is how much value i changes when the shared error is one standard uncertainty (u
    /// for values with a common zero error and 0 for the others; u_g times the value for a scale error). An all-zero
    /// part is left out; missing entries count as zero.
    #[must_use]
    pub fn with_shared(mut self, mut part: Vec<f64>) -> Self {
        if part.iter().any(|c| *c != 0.0) {
            part.resize(self.own.len(), 0.0);
            self.shared.push(part);
        }
        self
    }

    /// The covariance of some of the values, chosen by position, in this order. Positions out of range are ignored.
    #[must_use]
    pub fn of_some(&self, places: &[usize]) -> Self {
        let pick = |of: &[f64]| places.iter().filter_map(|&i| of.get(i).copied()).collect();
        self.shared.iter().fold(Self::new(pick(&self.own)), |some, part| some.with_shared(pick(part)))
    }

    /// The independent standard uncertainties.
    pub fn own(&self) -> &[f64] {
        &self.own
    }

    /// The shared parts, each with one entry for each value.
    pub fn shared(&self) -> &[Vec<f64>] {
        &self.shared
    }

    /// The number of values.
    pub(crate) fn count(&self) -> usize {
        self.own.len()
    }

    /// Standard uncertainty of the linear combination of the values with these weights.
    pub fn uncertainty_of(&self, weights: &[f64]) -> f64 {
        let own: f64 = self.own.iter().zip(weights).map(|(s, w)| (s * w) * (s * w)).sum();
        let shared: f64 = self.shared.iter().map(|c| dot(c, weights).powi(2)).sum();
        (own + shared).sqrt()
    }

    /// A linear map W with W V W' = 1.
    pub(super) fn whitening(&self) -> Result<Whitening, GlsError> {
        if let Some(i) = self.own.iter().position(|s| s.is_nan() || *s <= 0.0) {
            return Err(GlsError::NoOwnUncertainty(i));
        }
        if !self.own.iter().chain(self.shared.iter().flatten()).all(|v| v.is_finite()) {
            return Err(GlsError::NotFinite);
        }
        let mut whitening = Whitening {
            inverse_own: self.own.iter().map(|s| Dd::ONE / Dd::new(*s)).collect(),
            turns: Vec::with_capacity(self.shared.len()),
        };
        for part in &self.shared {
            let mut direction: Vec<Dd> = part.iter().map(|c| Dd::new(*c)).collect();
            whitening.apply(&mut direction);
            // (1 + d d')^(-1/2) = 1 - d d' / (r (r + 1)), r = sqrt(1 + |d|^2).
            let root = (Dd::ONE + Dd::dot(&direction, &direction)).sqrt();
            let factor = Dd::ONE / (root * (root + Dd::ONE));
            whitening.turns.push(Turn { direction, factor, excess: (Dd::ONE / root.square()).to_f64() });
        }
        Ok(whitening)
    }
}

/// W as a product: division by the independent uncertainties, then one symmetric rank-one correction for each shared
/// part.
pub(super) struct Whitening {
    inverse_own: Vec<Dd>,
    turns: Vec<Turn>,
}

struct Turn {
    direction: Vec<Dd>,
    factor: Dd,
    /// 1 / (1 + |direction|^2)
    excess: f64,
}

impl Turn {
    fn apply(&self, v: &mut [Dd]) {
        let sum = Dd::dot(&self.direction, v) * self.factor;
        for (x, &d) in v.iter_mut().zip(&self.direction) {
            *x -= sum * d;
        }
    }

    fn apply_f64(&self, v: &mut [f64]) {
        let sum: f64 = self.direction.iter().zip(v.iter()).map(|(d, x)| d.to_f64() * x).sum();
        let sum = sum * self.factor.to_f64();
        for (x, d) in v.iter_mut().zip(&self.direction) {
            *x -= sum * d.to_f64();
        }
    }
}

impl Whitening {
    /// Replaces v by W v.
    pub fn apply(&self, v: &mut [Dd]) {
        for (x, &s) in v.iter_mut().zip(&self.inverse_own) {
            *x = *x * s;
        }
        for turn in &self.turns {
            turn.apply(v);
        }
    }

    /// Replaces v by W' v.
    pub fn apply_transposed(&self, v: &mut [Dd]) {
        for turn in self.turns.iter().rev() {
            turn.apply(v);
        }
        for (x, &s) in v.iter_mut().zip(&self.inverse_own) {
            *x = *x * s;
        }
    }

    /// Replaces v by the inverse of V times v, in `f64`.
    pub fn apply_precision(&self, v: &mut [f64]) {
        self.divide(v);
        for turn in &self.turns {
            turn.apply_f64(v);
        }
        for turn in self.turns.iter().rev() {
            turn.apply_f64(v);
        }
        self.divide(v);
    }

    fn divide(&self, v: &mut [f64]) {
        for (x, s) in v.iter_mut().zip(&self.inverse_own) {
            *x *= s.to_f64();
        }
    }

    /// The diagonal of the inverse of V.
    pub fn precision(&self) -> Vec<f64> {
        let mut diagonal = vec![1.0; self.inverse_own.len()];
        for (k, turn) in self.turns.iter().enumerate() {
            // For turn k: H (1 - excess d d') H with H the turns before it.
            let mut seen: Vec<f64> = turn.direction.iter().map(|d| d.to_f64()).collect();
            for earlier in self.turns[..k].iter().rev() {
                earlier.apply_f64(&mut seen);
            }
            for (x, d) in diagonal.iter_mut().zip(&seen) {
                *x -= d * d * turn.excess;
            }
        }
        for (x, s) in diagonal.iter_mut().zip(&self.inverse_own) {
            *x *= s.to_f64() * s.to_f64();
        }
        diagonal
    }
}
