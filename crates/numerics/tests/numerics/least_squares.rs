//! Least squares: refusals that name the columns, weights, and what must not matter.

use crate::common::polynomial;
use numerics::Dd;
use numerics::lsq::*;
use proptest::prelude::*;

fn dd(values: &[f64]) -> Vec<Dd> {
    values.iter().map(|v| Dd::new(*v)).collect()
}

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got:.17} {want:.17}");
}

#[test]
fn dependent_columns_are_named() {
    let one = vec![Dd::ONE; 6];
    let a: Vec<Dd> =
        ["0.1", "0.2", "0.4", "0.3", "0.9", "0.7"].iter().map(|t| Dd::parse(t).unwrap()).collect();
    let b = dd(&[3.0, 1.0, 4.0, 1.0, 5.0, 9.0]);
    // The third column is 0.3 a + 2, so it depends on the constant and a; b is not involved.
    let mix: Vec<Dd> = a.iter().map(|x| *x * Dd::parse("0.3").unwrap() + Dd::new(2.0)).collect();
    let y = dd(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.5]);
    match fit(&[one.clone(), a.clone(), mix, b.clone()], &y, None) {
        Err(LsqError::RankDeficient { rank, dependent, involved }) => {
            assert_eq!((rank, dependent.len()), (3, 1));
            assert_eq!(involved, [0, 1, 2]);
        }
        other => panic!("{other:?}"),
    }
    let twice: Vec<Dd> = b.iter().map(|x| *x * 1e-9).collect();
    let found = fit(&[vec![Dd::ONE; y.len()], a.clone(), b.clone(), twice], &y, None).unwrap_err();
    assert!(matches!(&found, LsqError::RankDeficient { involved, .. } if *involved == [2, 3]), "{found}");
    let nothing = fit(&[one, vec![Dd::ZERO; 6], a], &y, None);
    assert!(matches!(nothing, Err(LsqError::RankDeficient { dependent, .. }) if dependent == [1]));
    // Four different places cannot determine a quintic.
    let few = polynomial(&dd(&[1.0, 2.0, 3.0, 4.0, 4.0, 1.0]), &y, 5, Constant::Fitted);
    assert!(matches!(few, Err(LsqError::RankDeficient { rank: 4, .. })));
}

#[test]
fn refusals() {
    let x = dd(&[1.0, 2.0]);
    assert_eq!(
        polynomial(&x, &x, 2, Constant::Fitted),
        Err(LsqError::TooFewRows { rows: 2, coefficients: 3 })
    );
    assert_eq!(polynomial(&[], &[], 1, Constant::Fitted), Err(LsqError::Empty));
    assert_eq!(
        polynomial(&x, &dd(&[1.0]), 0, Constant::Fitted),
        Err(LsqError::Lengths { expected: 1, found: 2 })
    );
    assert_eq!(fit(std::slice::from_ref(&x), &x, Some(&[1.0, 0.0])), Err(LsqError::BadWeight(1)));
    assert_eq!(fit(&[dd(&[1.0, f64::INFINITY])], &x, None), Err(LsqError::NotFinite));
}

/// Two points and a line leave no scatter to estimate.
#[test]
fn exact_fit_has_no_standard_error() {
    let fit = polynomial(&dd(&[1.0, 2.0]), &dd(&[3.0, 5.0]), 1, Constant::Fitted).unwrap();
    assert_eq!((fit.coefficients, fit.dof), (vec![1.0, 2.0], 0));
    assert!(fit.residual_sd.is_nan() && fit.standard_errors.iter().all(|s| s.is_nan()));
}

/// A row of weight 3 counts as three rows (whole weights are repeats), except for the degrees of freedom.
#[test]
fn weights_count_rows() {
    let weighted = polynomial_weighted(&[0.0, 1.0, 2.0, 4.0], &[1.0, 2.0, 2.5, 6.0], &[3.0, 1.0, 2.0, 1.0]);
    let repeated = polynomial(
        &dd(&[0.0, 0.0, 0.0, 1.0, 2.0, 2.0, 4.0]),
        &dd(&[1.0, 1.0, 1.0, 2.0, 2.5, 2.5, 6.0]),
        1,
        Constant::Fitted,
    );
    let repeated = repeated.unwrap();
    for i in 0..2 {
        near(weighted.coefficients[i], repeated.coefficients[i], 1e-15);
        near(weighted.unscaled_covariance[i][i], repeated.unscaled_covariance[i][i], 1e-15);
    }
    near(weighted.sum_of_squares, repeated.sum_of_squares, 1e-15);
    near(weighted.r_squared, repeated.r_squared, 1e-15);
    assert_eq!((weighted.dof, repeated.dof), (2, 5));
}

#[expect(clippy::unwrap_used, reason = "a fit that fails fails the test")]
fn polynomial_weighted(x: &[f64], y: &[f64], w: &[f64]) -> Fit {
    fit(&powers(&dd(x), 1, Constant::Fitted), &dd(y), Some(w)).unwrap()
}

/// Condition number of two unit columns at an angle: the square root of (1 + c)/(1 - c), with c the cosine.
#[test]
fn condition_of_two_columns() {
    let fit = fit(&[dd(&[1.0, 0.0, 0.0]), dd(&[30.0, 40.0, 0.0])], &dd(&[1.0, 1.0, 1.0]), None).unwrap();
    near(fit.condition, (1.6_f64 / 0.4).sqrt(), 1e-14);
}

proptest! {
    #![proptest_config(crate::common::cases(128))]
    /// The order of rows and the units do not matter; a polynomial added to y changes only the coefficients.
    #[test]
    fn invariances(
        rows in prop::collection::vec((-5.0..5.0_f64, -1.0..1.0_f64), 6..40),
        turn in 0..40_usize, add in prop::array::uniform3(-3.0..3.0_f64),
    ) {
        let (x, y): (Vec<f64>, Vec<f64>) = rows.iter().copied().unzip();
        let plain = polynomial(&dd(&x), &dd(&y), 2, Constant::Fitted).unwrap();
        let mut turned = rows.clone();
        turned.rotate_left(turn % rows.len());
        let (tx, ty): (Vec<f64>, Vec<f64>) = turned.into_iter().unzip();
        let other = polynomial(&dd(&tx), &dd(&ty), 2, Constant::Fitted).unwrap();
        prop_assert_eq!(&plain.coefficients, &other.coefficients);
        prop_assert_eq!(&plain.standard_errors, &other.standard_errors);
        let added: Vec<Dd> = x.iter().zip(&y).map(|(x, y)| {
            let x = Dd::new(*x);
            Dd::new(*y) + Dd::new(add[0]) + x * add[1] + x * x * add[2]
        }).collect();
        let shifted = polynomial(&dd(&x), &added, 2, Constant::Fitted).unwrap();
        for (i, add) in add.iter().enumerate() {
            prop_assert!((shifted.coefficients[i] - plain.coefficients[i] - add).abs() < 1e-14);
        }
        prop_assert!((shifted.residual_sd - plain.residual_sd).abs() < 1e-14);
        let scaled: Vec<f64> = x.iter().map(|x| x * 1024.0).collect();
        let scaled = polynomial(&dd(&scaled), &dd(&y), 2, Constant::Fitted).unwrap();
        prop_assert_eq!(scaled.coefficients[2] * 1024.0 * 1024.0, plain.coefficients[2]);
        prop_assert_eq!(scaled.residual_sd, plain.residual_sd);
    }

    /// The residuals are orthogonal to every column (the property that defines least squares).
    #[test]
    fn residuals_are_orthogonal(rows in prop::collection::vec((-5.0..5.0_f64, -1.0..1.0_f64), 5..40)) {
        let (x, y): (Vec<f64>, Vec<f64>) = rows.into_iter().unzip();
        let fit = polynomial(&dd(&x), &dd(&y), 3, Constant::Fitted).unwrap();
        for k in 0..4 {
            let inner: f64 = x.iter().zip(&fit.residuals).map(|(x, r)| x.powi(k) * r).sum();
            prop_assert!(inner.abs() < 1e-11, "{inner}");
        }
    }
}
