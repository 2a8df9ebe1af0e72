//! Reads the reference data, and gives the log relative error: how many digits of a certified value are right.
#![allow(
    dead_code,
    clippy::unwrap_used,
    reason = "each test program uses a part of it, and a broken file fails the test"
)]

use numerics::Dd;
use numerics::gls::Covariance;
use numerics::lsq::{Constant, Fit, LsqError, fit, powers};
use numerics::scatter::Scatter;
use proptest::test_runner::{Config, RngSeed};

/// Fits a polynomial of `order` in `x` by its plain powers.
pub fn polynomial(x: &[Dd], y: &[Dd], order: usize, constant: Constant) -> Result<Fit, LsqError> {
    fit(&powers(x, order, constant), y, None)
}

/// Property tests with fixed draws, so that a run can be repeated.
pub fn cases(count: u32) -> Config {
    Config { cases: count, rng_seed: RngSeed::Fixed(28_037), failure_persistence: None, ..Config::default() }
}

/// No scatter beyond the covariance.
pub fn no_scatter() -> Scatter {
    Scatter::of(0.0, 9, 9.0).unwrap()
}

/// The covariance as a full matrix.
pub fn matrix(v: &Covariance) -> Vec<Vec<f64>> {
    let n = v.own().len();
    let own = |i: usize, j: usize| if i == j { v.own()[i] * v.own()[i] } else { 0.0 };
    let entry = |i, j| own(i, j) + v.shared().iter().map(|c| c[i] * c[j]).sum::<f64>();
    (0..n).map(|i| (0..n).map(|j| entry(i, j)).collect()).collect()
}

/// Digits of `certified` that `got` has right, at most 15 (the digits NIST prints).
pub fn lre(got: f64, certified: f64) -> f64 {
    let error = if certified == 0.0 { got.abs() } else { ((got - certified) / certified).abs() };
    if error == 0.0 { 15.0 } else { (-error.log10()).clamp(0.0, 15.0) }
}

/// One file of reference data: lines of text before `DATA`, rows of numbers after.
pub struct Reference {
    facts: Vec<Vec<String>>,
    /// Rows as typed.
    pub rows: Vec<Vec<Dd>>,
}

impl Reference {
    /// Reads the text of a file.
    pub fn read(text: &str) -> Self {
        let words = |l: &str| l.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        let mut lines = text.lines().filter(|l| !l.starts_with('#'));
        let facts = lines.by_ref().take_while(|l| !l.starts_with("DATA")).map(words).collect();
        let number = |w: &str| Dd::parse(w).unwrap();
        let rows = lines.map(|l| l.split_whitespace().map(number).collect()).collect();
        Self { facts, rows }
    }

    /// The numbers after `name`.
    pub fn fact(&self, name: &str) -> Vec<f64> {
        let found = self.facts.iter().find(|f| f[0] == name).unwrap();
        found[1..].iter().map(|w| w.parse().unwrap()).collect()
    }

    /// Certified (coefficient, standard error) pairs, 15 digits.
    pub fn certified(&self) -> Vec<(f64, f64)> {
        self.pairs("B")
    }

    /// The same recomputed with exact fractions, rounded to the nearest `f64`.
    pub fn exact(&self) -> Vec<(f64, f64)> {
        self.pairs("EXACT")
    }

    fn pairs(&self, prefix: &str) -> Vec<(f64, f64)> {
        let number = |f: &&Vec<String>| f[0].strip_prefix(prefix).is_some_and(|n| n.parse::<u32>().is_ok());
        let pair = |f: &Vec<String>| (f[1].parse().unwrap(), f[2].parse().unwrap());
        self.facts.iter().filter(number).map(pair).collect()
    }

    /// One column of the rows.
    pub fn column(&self, k: usize) -> Vec<Dd> {
        self.rows.iter().map(|r| r[k]).collect()
    }
}
