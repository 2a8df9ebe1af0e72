//! The eleven linear sets of the NIST Statistical Reference Datasets (certified coefficients and standard deviations).

#![expect(clippy::unwrap_used, reason = "a fit that fails fails the test")]

use crate::common::{self, Reference, lre};
use numerics::Dd;
use numerics::lsq::{self, Constant, Fit};

fn polynomial(text: &str, order: usize, constant: Constant) -> (Reference, Fit) {
    let reference = Reference::read(text);
    let fit = common::polynomial(&reference.column(1), &reference.column(0), order, constant).unwrap();
    (reference, fit)
}

/// Every certified figure to at least 13 digits.
fn certified((reference, fit): (Reference, Fit)) {
    let pairs = reference.certified();
    assert_eq!(pairs.len(), fit.coefficients.len());
    for (i, (b, sd)) in pairs.into_iter().enumerate() {
        assert!(lre(fit.coefficients[i], b) >= 13.0, "B{i} {} {b}", fit.coefficients[i]);
        assert!(lre(fit.standard_errors[i], sd) >= 13.0, "SD{i} {} {sd}", fit.standard_errors[i]);
    }
    // Compared with exact fractions, only the last rounding remains.
    for (i, (b, sd)) in reference.exact().into_iter().enumerate() {
        assert!((fit.coefficients[i] - b).abs() <= 2.3e-16 * b.abs(), "B{i} {} {b}", fit.coefficients[i]);
        assert!((fit.standard_errors[i] - sd).abs() <= 2.3e-16 * sd, "SD{i} {} {sd}", fit.standard_errors[i]);
    }
    assert_eq!(reference.exact().len(), fit.coefficients.len());
    assert!(lre(fit.residual_sd, reference.fact("RSD")[0]) >= 13.0);
    assert!(lre(fit.r_squared, reference.fact("R2")[0]) >= 13.0);
}

/// Sets without scatter: the coefficients to 13 digits, standard errors below 1e-9 of them.
fn exact((reference, fit): (Reference, Fit)) {
    for (i, (b, _)) in reference.certified().into_iter().enumerate() {
        assert!(lre(fit.coefficients[i], b) >= 13.0, "B{i}");
        assert!(fit.standard_errors[i] < 1e-9 * b, "SD{i} {}", fit.standard_errors[i]);
    }
    assert!(lre(fit.r_squared, 1.0) >= 13.0);
}

macro_rules! nist {
    ($name:literal) => {
        include_str!(concat!("data/nist/", $name, ".txt"))
    };
}

#[test]
fn norris() {
    certified(polynomial(nist!("Norris"), 1, Constant::Fitted));
}

#[test]
fn pontius() {
    certified(polynomial(nist!("Pontius"), 2, Constant::Fitted));
}

#[test]
fn no_intercept() {
    certified(polynomial(nist!("NoInt1"), 1, Constant::None));
    certified(polynomial(nist!("NoInt2"), 1, Constant::None));
}

#[test]
fn filip() {
    certified(polynomial(nist!("Filip"), 10, Constant::Fitted));
}

#[test]
fn longley() {
    let reference = Reference::read(nist!("Longley"));
    let y = reference.column(0);
    let constant = vec![Dd::ONE; y.len()];
    let columns: Vec<_> = std::iter::once(constant).chain((1..=6).map(|k| reference.column(k))).collect();
    let fit = lsq::fit(&columns, &y, None).unwrap();
    certified((reference, fit));
}

#[test]
fn wampler_exact() {
    exact(polynomial(nist!("Wampler1"), 5, Constant::Fitted));
    exact(polynomial(nist!("Wampler2"), 5, Constant::Fitted));
}

#[test]
fn wampler_with_scatter() {
    certified(polynomial(nist!("Wampler3"), 5, Constant::Fitted));
    certified(polynomial(nist!("Wampler4"), 5, Constant::Fitted));
    certified(polynomial(nist!("Wampler5"), 5, Constant::Fitted));
}
