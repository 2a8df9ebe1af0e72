//! Generalised least squares: against plain linear algebra, and what must and must not matter.

mod common;

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
    let p = inverse(&v.matrix());
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
    #![proptest_config(common::cases(128))]
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

    /// A standardised residual squared is by how much chi-squared falls when that value is left out.
    #[test]
    fn residuals_are_what_leaving_out_says((eta, d, v) in round(), order in 0..3_usize) {
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
            let t = whole.residuals.studentised[i].unwrap();
            let expected = z / (without.chi2 / without.dof as f64).sqrt();
            prop_assert!((t - expected).abs() < 1e-5 * (1.0 + t.abs()), "{t} {expected}");
            prop_assert!((0.0..=1.0).contains(&whole.residuals.leverage[i]));
        }
    }

    /// Order of readings does not matter; a constant added changes the setting only; mirrored deviations mirror the answer.
    #[test]
    fn invariances((eta, d, _) in round(), own in 0.02..0.2_f64, zero in 0.0..0.3_f64, turn in 0..15_usize, add in -5.0..5.0_f64) {
        let v = Covariance::new(vec![own; d.len()]).with_shared(vec![zero; d.len()]);
        let plain = choose_order(&eta, &d, &v, 3).unwrap();
        let (mut te, mut td) = (eta.clone(), d.clone());
        te.rotate_left(turn % d.len());
        td.rotate_left(turn % d.len());
        let turned = choose_order(&te, &td, &v, 3).unwrap();
        prop_assert_eq!(&plain.fit.coefficients, &turned.fit.coefficients);
        prop_assert_eq!(&plain.fit.covariance, &turned.fit.covariance);
        let added: Vec<f64> = d.iter().map(|d| d + add).collect();
        let shifted = choose_order(&eta, &added, &v, 3).unwrap();
        prop_assert_eq!(shifted.fit.order, plain.fit.order);
        prop_assert!((shifted.fit.coefficients[0] - plain.fit.coefficients[0] - add).abs() < 1e-12);
        for (a, b) in shifted.fit.coefficients.iter().zip(&plain.fit.coefficients).skip(1) {
            prop_assert!((a - b).abs() < 1e-10);
        }
        let mirrored: Vec<f64> = d.iter().map(|d| -d).collect();
        let other = choose_order(&eta, &mirrored, &v, 3).unwrap();
        let back: Vec<f64> = other.fit.coefficients.iter().map(|b| -b).collect();
        prop_assert_eq!(&plain.fit.coefficients, &back);
    }

    /// One more reading never makes anything known less well (uncertainties by V, before any enlargement).
    #[test]
    fn more_information_never_hurts((eta, d, v) in round(), order in 0..3_usize, at in 0.0..1.2_f64) {
        let n = d.len() - 1;
        let mut fewer = Covariance::new(v.own()[..n].to_vec());
        for part in v.shared() {
            fewer = fewer.with_shared(part[..n].to_vec());
        }
        let (less, more) = (fit(&eta[..n], &d[..n], &fewer, order).unwrap(), fit(&eta, &d, &v, order).unwrap());
        for row in [deviation_row(order, at), change_row(order, at)] {
            let by_v = |f: &GlsFit| f.uncertainty(&row) / f.scale;
            prop_assert!(by_v(&more) <= by_v(&less) * (1.0 + 1e-12));
        }
    }
}

/// What all readings of a round share does not reach the twist error, however large.
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
    near(tied.covariance_of(&root, &tip), free.covariance_of(&root, &tip), 1e-13);
}

/// Scatter beyond V enlarges uncertainties by sqrt(chi2/nu) and brings t; scatter below V changes nothing.
#[test]
fn scatter_beyond_the_covariance() {
    let eta = [0.0, 0.25, 0.5, 0.75, 1.0];
    let d = [0.0, 0.2, 0.0, 0.2, 0.0];
    let v = |u: f64| Covariance::new(vec![u; 5]);
    let wide = fit(&eta, &d, &v(0.03), 1).unwrap();
    assert!(wide.chi2_p < 0.05);
    near(wide.scale, (wide.chi2 / 3.0).sqrt(), 1e-15);
    assert_eq!(wide.coverage_dof(), Some(3.0));
    near(wide.coverage_factor(0.95), 3.182_446_305_284, 1e-9);
    let calm = fit(&eta, &d, &v(0.3), 1).unwrap();
    assert_eq!((calm.scale, calm.coverage_dof()), (1.0, None));
    near(calm.coverage_factor(0.95), 1.959_963_984_540, 1e-11);
    // Enlarged, the uncertainty no longer depends on what the instrument claims.
    let row = deviation_row(1, 0.3);
    near(fit(&eta, &d, &v(0.02), 1).unwrap().uncertainty(&row), wide.uncertainty(&row), 1e-14);
}

#[test]
fn a_wrong_reading_is_named() {
    let eta: Vec<f64> = (0..10).map(|i| f64::from(i) / 9.0).collect();
    let mut d: Vec<f64> =
        eta.iter().enumerate().map(|(i, e)| 0.3 * e + 0.01 * ((i * 7 % 5) as f64 - 2.0)).collect();
    let v = Covariance::new(vec![0.03; 10]).with_shared(vec![0.1; 10]);
    assert!(fit(&eta, &d, &v, 1).unwrap().residuals.suspects(0.05).is_empty());
    d[6] += 0.3;
    let found = fit(&eta, &d, &v, 1).unwrap();
    assert_eq!(found.residuals.suspects(0.05), [6]);
    // t at 0.05 / 20 with 7 degrees of freedom, computed with 40 digits.
    near(found.residuals.limit(0.05).unwrap(), 4.029_337_177_6, 1e-9);
}

#[test]
fn order_follows_the_readings() {
    let eta: Vec<f64> = (0..12).map(|i| f64::from(i) / 11.0).collect();
    let noise = [3.0, -1.0, 2.0, -4.0, 1.0, -2.0, 4.0, -3.0, -1.0, 2.0, -2.0, 1.0];
    let v = Covariance::new(vec![0.03; 12]).with_shared(vec![0.05; 12]);
    let chosen = |bend: f64, cubic: f64| {
        let d: Vec<f64> = eta
            .iter()
            .zip(noise)
            .map(|(e, n)| 0.1 + 0.2 * e + bend * e * e + cubic * e * e * e + 0.005 * n)
            .collect();
        choose_order(&eta, &d, &v, 3).unwrap()
    };
    let straight = chosen(0.0, 0.0);
    assert_eq!((straight.fit.order, straight.steps.len()), (1, 2));
    assert_eq!(straight.steps[0].reason, OrderReason::First);
    assert!(!straight.steps[1].taken && straight.steps[1].p.unwrap() > 0.05);
    let bent = chosen(0.5, 0.0);
    assert_eq!(bent.fit.order, 2);
    assert_eq!(bent.steps[1].reason, OrderReason::BothAsk);
    let wavy = chosen(3.0, -1.5);
    assert_eq!((wavy.fit.order, wavy.steps.len()), (3, 3));
    near(wavy.fit.chi2, wavy.steps[2].chi2.unwrap(), 1e-15);
    // AICc by its formula: n ln(chi2/n) + 2K + 2K(K+1)/(n-K-1), n 12, K 3.
    let first = straight.steps[0];
    near(first.aicc.unwrap(), 12.0 * (first.chi2.unwrap() / 12.0).ln() + 6.0 + 24.0 / 8.0, 1e-12);
    let perfect = choose_order(&eta, &[0.25; 12], &v, 3).unwrap();
    assert_eq!((perfect.fit.order, perfect.steps[1].reason), (1, OrderReason::NothingLeft));
}

#[test]
fn few_values() {
    let v = |n| Covariance::new(vec![0.1; n]);
    let one = choose_order(&[0.5], &[0.2], &v(1), 3).unwrap();
    assert_eq!((one.fit.order, one.fit.coefficients[0], one.fit.dof), (0, 0.2, 0));
    let two = choose_order(&[0.0, 1.0], &[0.2, 0.5], &v(2), 3).unwrap();
    assert_eq!((two.fit.order, two.steps[1].reason), (1, OrderReason::TooFewValues));
    near(two.fit.value(&change_row(1, 1.0)), 0.3, 1e-15);
    assert_eq!(two.fit.residuals.studentised, [None, None]);
    assert_eq!(two.fit.residuals.limit(0.05), None);
    let together = choose_order(&[0.5, 0.5, 0.5], &[0.1, 0.2, 0.3], &v(3), 3).unwrap();
    assert_eq!(together.fit.order, 0);
    near(together.fit.coefficients[0], 0.2, 1e-15);
}

#[test]
fn refusals() {
    let v = Covariance::new(vec![0.1; 2]);
    assert_eq!(fit(&[0.0, 1.0], &[1.0], &v, 1), Err(GlsError::Lengths { values: 1, found: 2 }));
    assert_eq!(
        fit(&[0.5, 0.5], &[1.0, 2.0], &v, 1),
        Err(GlsError::TooFew { values: 2, places: 1, coefficients: 2 })
    );
    assert!(matches!(
        choose_order(&[], &[], &Covariance::default(), 3),
        Err(GlsError::TooFew { values: 0, .. })
    ));
    let flat = Covariance::new(vec![0.1, 0.0]).with_shared(vec![1.0, 1.0]);
    assert_eq!(fit(&[0.0, 1.0], &[1.0, 2.0], &flat, 1), Err(GlsError::NoOwnUncertainty(1)));
    assert_eq!(fit(&[0.0, f64::NAN], &[1.0, 2.0], &v, 1), Err(GlsError::NotFinite));
}
