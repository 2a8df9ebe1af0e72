//! Generalised least squares compared with plain linear algebra, and what must and must not matter.

use crate::common::matrix;
use numerics::gls::*;
use proptest::prelude::*;

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got:.17} {want:.17}");
}

/// The inverse by Gauss-Jordan elimination.
fn inverse(matrix: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = matrix.len();
    let unit = |i: usize| (0..n).map(move |j| f64::from(u8::from(i == j)));
    let mut m: Vec<Vec<f64>> =
        matrix.iter().enumerate().map(|(i, r)| r.iter().copied().chain(unit(i)).collect()).collect();
    for k in 0..n {
        let pivot = m[k][k];
        m[k].iter_mut().for_each(|x| *x /= pivot);
        let row = m[k].clone();
        for (i, line) in m.iter_mut().enumerate().filter(|(i, _)| *i != k) {
            let factor = line[k];
            line.iter_mut().zip(&row).for_each(|(x, r)| *x -= factor * r);
            assert!(i < n);
        }
    }
    m.into_iter().map(|r| r[n..].to_vec()).collect()
}

/// (coefficients, covariance, chi-squared) by the textbook formula with full matrices.
fn textbook(eta: &[f64], d: &[f64], v: &Covariance, order: usize) -> (Vec<f64>, Vec<Vec<f64>>, f64) {
    let p = inverse(&matrix(v));
    let x: Vec<Vec<f64>> = eta.iter().map(|e| deviation_row(order, *e)).collect();
    let times =
        |w: &[f64]| -> Vec<f64> { p.iter().map(|r| r.iter().zip(w).map(|(a, b)| a * b).sum()).collect() };
    let column = |k: usize| x.iter().map(|r| r[k]).collect::<Vec<_>>();
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let normal: Vec<Vec<f64>> =
        (0..=order).map(|i| (0..=order).map(|j| dot(&column(i), &times(&column(j)))).collect()).collect();
    let covariance = inverse(&normal);
    let right: Vec<f64> = (0..=order).map(|i| dot(&column(i), &times(d))).collect();
    let b: Vec<f64> = covariance.iter().map(|r| dot(r, &right)).collect();
    let rest: Vec<f64> = x.iter().zip(d).map(|(r, d)| d - dot(r, &b)).collect();
    let chi2 = dot(&rest, &times(&rest));
    (b, covariance, chi2)
}

prop_compose! {
    /// 5 to 14 stations with different own uncertainties, a shared zero for some of them and a shared scale.
    fn round()(rows in prop::collection::vec((0.0..0.04_f64, -0.5..0.5_f64, 0.02..0.2_f64, any::<bool>()), 5..15),
               zero in 0.0..0.3_f64, scale in 0.0..0.05_f64)
        -> (Vec<f64>, Vec<f64>, Covariance)
    {
        let eta: Vec<f64> = rows.iter().enumerate().map(|(i, r)| i as f64 / rows.len() as f64 + r.0).collect();
        let d: Vec<f64> = rows.iter().map(|r| r.1).collect();
        let covariance = Covariance::new(rows.iter().map(|r| r.2).collect())
            .with_shared(rows.iter().map(|r| if r.3 { zero } else { 0.0 }).collect())
            .with_shared(d.iter().map(|d| scale * d).collect());
        (eta, d, covariance)
    }
}

proptest! {
    #![proptest_config(crate::common::cases(128))]
    #[test]
    fn agrees_with_full_matrices((eta, d, v) in round(), order in 0..4_usize) {
        let got = fit(&eta, &d, &v, order).unwrap();
        let (b, covariance, chi2) = textbook(&eta, &d, &v, order);
        for i in 0..=order {
            prop_assert!((got.coefficients[i] - b[i]).abs() < 1e-7 * (1.0 + b[i].abs()), "{} {}", got.coefficients[i], b[i]);
            for j in 0..=order {
                let size = (covariance[i][i] * covariance[j][j]).sqrt();
                prop_assert!((got.covariance[i][j] - covariance[i][j]).abs() < 1e-7 * size);
            }
        }
        prop_assert!((got.chi2 - chi2).abs() < 1e-8 * (1.0 + chi2));
    }

    /// The square of a standardised residual is how much chi-squared falls when that value is left out.
    #[test]
    fn a_residual_equals_what_leaving_the_value_out_changes((eta, d, v) in round(), order in 0..3_usize) {
        let whole = fit(&eta, &d, &v, order).unwrap();
        for i in 0..d.len() {
            let but = |w: &[f64]| w.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, x)| *x).collect::<Vec<_>>();
            let mut rest = Covariance::new(but(v.own()));
            for part in v.shared() {
                rest = rest.with_shared(but(part));
            }
            let without = fit(&but(&eta), &but(&d), &rest, order).unwrap();
            let z = whole.residuals.standardised[i].unwrap();
            prop_assert!((z * z - (whole.chi2 - without.chi2)).abs() < 1e-7 * (1.0 + whole.chi2));
            if let Some(found) = whole.residuals.departures()[i] {
                let expected = z / (without.chi2 / without.dof as f64).max(1.0).sqrt();
                prop_assert!((found.t - expected).abs() < 1e-5 * (1.0 + found.t.abs()), "{found:?} {expected}");
            }
            prop_assert!((0.0..=1.0).contains(&whole.residuals.leverage[i]));
        }
    }

    /// The order of readings does not matter; adding a constant changes only the setting; mirrored deviations give
    /// the mirrored answer.
    #[test]
    fn invariances((eta, d, _) in round(), own in 0.02..0.2_f64, zero in 0.0..0.3_f64, turn in 0..15_usize, add in -5.0..5.0_f64) {
        let v = Covariance::new(vec![own; d.len()]).with_shared(vec![zero; d.len()]);
        let plain = fit(&eta, &d, &v, 3).unwrap();
        let (mut te, mut td) = (eta.clone(), d.clone());
        te.rotate_left(turn % d.len());
        td.rotate_left(turn % d.len());
        let turned = fit(&te, &td, &v, 3).unwrap();
        prop_assert_eq!(&plain.coefficients, &turned.coefficients);
        prop_assert_eq!(&plain.covariance, &turned.covariance);
        let added: Vec<f64> = d.iter().map(|d| d + add).collect();
        let shifted = fit(&eta, &added, &v, 3).unwrap();
        prop_assert!((shifted.coefficients[0] - plain.coefficients[0] - add).abs() < 1e-12);
        for (a, b) in shifted.coefficients.iter().zip(&plain.coefficients).skip(1) {
            prop_assert!((a - b).abs() < 1e-10);
        }
        let mirrored: Vec<f64> = d.iter().map(|d| -d).collect();
        let other = fit(&eta, &mirrored, &v, 3).unwrap();
        let back: Vec<f64> = other.coefficients.iter().map(|b| -b).collect();
        prop_assert_eq!(&plain.coefficients, &back);
    }

    /// The trace is the sum over values of what leaving each one out frees, checked with P as a full matrix;
    /// chi-squared grows by it.
    #[test]
    fn trace_of_what_is_left((eta, d, v) in round(), order in 0..4_usize) {
        let got = fit(&eta, &d, &v, order).unwrap();
        let p = inverse(&matrix(&v));
        let x: Vec<Vec<f64>> = eta.iter().map(|e| deviation_row(order, *e)).collect();
        let px: Vec<Vec<f64>> = p.iter().map(|row| (0..=order).map(|k| row.iter().zip(&x).map(|(a, b)| a * b[k]).sum()).collect()).collect();
        let (_, c, _) = textbook(&eta, &d, &v, order);
        let explained: f64 = px.iter().map(|r| (0..=order).map(|i| (0..=order).map(|j| r[i] * c[i][j] * r[j]).sum::<f64>()).sum::<f64>()).sum();
        let want = (0..d.len()).map(|i| p[i][i]).sum::<f64>() - explained;
        prop_assert!((got.residuals.trace - want).abs() < 1e-6 * (1.0 + want.abs()), "{} {want}", got.residuals.trace);
    }

    /// One more reading never makes any uncertainty (from V) larger.
    #[test]
    fn more_information_never_hurts((eta, d, v) in round(), order in 0..3_usize, at in 0.0..1.2_f64) {
        let n = d.len() - 1;
        let mut fewer = Covariance::new(v.own()[..n].to_vec());
        for part in v.shared() {
            fewer = fewer.with_shared(part[..n].to_vec());
        }
        let (less, more) = (fit(&eta[..n], &d[..n], &fewer, order).unwrap(), fit(&eta, &d, &v, order).unwrap());
        for row in [deviation_row(order, at), change_row(order, at)] {
            prop_assert!(more.uncertainty(&row) <= less.uncertainty(&row) * (1.0 + 1e-12));
        }
    }
}

/// A zero shared by all readings of a round does not affect the twist error, however large it is.
#[test]
fn shared_zero_does_not_touch_twist() {
    let eta: Vec<f64> = (0..12).map(|i| f64::from(i) / 11.0).collect();
    let d: Vec<f64> = eta.iter().map(|e| 0.2 + 0.3 * e).collect();
    let at =
        |zero: f64| fit(&eta, &d, &Covariance::new(vec![0.05; 12]).with_shared(vec![zero; 12]), 1).unwrap();
    let (free, tied) = (at(0.0), at(100.0));
    let tip = change_row(1, 1.0);
    near(tied.uncertainty(&tip), free.uncertainty(&tip), 1e-13);
    near(tied.value(&tip), 0.3, 1e-14);
    let root = deviation_row(1, 0.0);
    near(tied.uncertainty(&root), (free.uncertainty(&root).powi(2) + 1e4).sqrt(), 1e-9);
    near(tied.covariance[0][1], free.covariance[0][1], 1e-13);
}

#[test]
fn a_wrong_reading_is_named() {
    let eta: Vec<f64> = (0..10).map(|i| f64::from(i) / 9.0).collect();
    let mut d: Vec<f64> =
        eta.iter().enumerate().map(|(i, e)| 0.3 * e + 0.01 * ((i * 7 % 5) as f64 - 2.0)).collect();
    let v = Covariance::new(vec![0.03; 10]).with_shared(vec![0.1; 10]);
    let odd = |d: &[f64]| -> Vec<usize> {
        let found = fit(&eta, d, &v, 1).unwrap().residuals.departures();
        (0..10).filter(|i| found[*i].unwrap().p < 0.02).collect()
    };
    assert!(odd(&d).is_empty());
    d[6] += 0.3;
    assert_eq!(odd(&d), [6]);
    // If the other values scatter less than V says, a departure is measured by V: Student's t 4.029337177 at 0.05/20
    // with 7 degrees of freedom, computed with 40 digits.
    let found = fit(&eta, &d, &v, 1).unwrap();
    let (z, most) = (found.residuals.standardised[6].unwrap(), found.residuals.departures()[6].unwrap());
    near(most.t, z, 1e-12);
    let p = |t: f64| 20.0 * numerics::dist::t_sf(t, 7.0);
    near(p(4.029_337_177_6), 0.05, 1e-10);
    near(most.p, p(most.t), 1e-12);
    // With fewer than three degrees of freedom among the others, no departure is given.
    assert_eq!(
        fit(&eta[..5], &d[..5], &v.of_some(&[0, 1, 2, 3, 4]), 1).unwrap().residuals.departures(),
        [None; 5]
    );
}

#[test]
fn refusals() {
    let v = Covariance::new(vec![0.1; 2]);
    assert_eq!(fit(&[0.0, 1.0], &[1.0], &v, 1), Err(GlsError::Lengths { values: 1, found: 2 }));
    assert_eq!(
        fit(&[0.5, 0.5], &[1.0, 2.0], &v, 1),
        Err(GlsError::TooFew { values: 2, places: 1, coefficients: 2 })
    );
    assert!(matches!(fit(&[], &[], &Covariance::default(), 3), Err(GlsError::TooFew { values: 0, .. })));
    let flat = Covariance::new(vec![0.1, 0.0]).with_shared(vec![1.0, 1.0]);
    assert_eq!(fit(&[0.0, 1.0], &[1.0, 2.0], &flat, 1), Err(GlsError::NoOwnUncertainty(1)));
    assert_eq!(fit(&[0.0, f64::NAN], &[1.0, 2.0], &v, 1), Err(GlsError::NotFinite));
}

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
