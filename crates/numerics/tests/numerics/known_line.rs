//! Lines through points of known uncertainty, and the thermometer of JCGM 100.

use crate::common::{polynomial, welch_satterthwaite};
use numerics::Dd;
use numerics::gls::{self, Covariance};
use numerics::line::{LineError, both, weighted};
use numerics::lsq::Constant;

fn near(got: f64, want: f64, relative: f64) {
    assert!((got - want).abs() <= relative * want.abs(), "{got:.17} {want:.17}");
}

/// ISO/TS 28037:2010 example 1 (published a 1.867, u 0.465, b 1.757, u 0.120, covariance -0.050, chi-squared 1.665);
/// exact values computed.
#[test]
fn equal_weights() {
    let x = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0];
    let y = [3.3, 5.6, 7.1, 9.3, 10.7, 12.1];
    let line = weighted(&x, &y, &[0.5; 6]).unwrap();
    near(line.intercept, 28.0 / 15.0, 1e-14);
    near(line.slope, 123.0 / 70.0, 1e-14);
    near(line.intercept_uncertainty, 0.465_474_668_125_631_4, 1e-14);
    near(line.slope_uncertainty, 0.119_522_860_933_439_36, 1e-14);
    near(line.covariance, -0.05, 1e-14);
    near(line.chi2, 1.664_761_904_761_904_7, 1e-13);
    assert_eq!(line.dof, 4);
    let (at, u) = line.inverse(10.5, 0.5);
    near(at, 4.913_279_132_791_33, 1e-13);
    near(u, 0.322_035_560_128_91, 1e-12);
    let (at, u) = line.forward(3.5, 0.2);
    near(at, 8.016_666_666_666_67, 1e-14);
    near(u, 0.406_409_531_732_455, 1e-13);
    // The same by generalised least squares.
    let fit = gls::fit(&x, &y, &Covariance::new(vec![0.5; 6]), 1).unwrap();
    near(fit.coefficients[0], line.intercept, 1e-14);
    near(fit.covariance[0][1], line.covariance, 1e-13);
    near(fit.chi2, line.chi2, 1e-13);
}

/// Errors in x alone are errors in y with the axes exchanged.
#[test]
fn both_directions() {
    let x = [1.0, 2.0, 3.1, 3.9, 5.2];
    let y = [2.1, 3.9, 6.2, 8.1, 10.1];
    let u = [0.1, 0.2, 0.1, 0.3, 0.1];
    let (straight, turned) = (both(&x, &y, &u, &[0.0; 5]).unwrap(), weighted(&y, &x, &u).unwrap());
    near(straight.slope, 1.0 / turned.slope, 1e-12);
    near(straight.intercept, -turned.intercept / turned.slope, 1e-11);
    near(straight.chi2, turned.chi2, 1e-11);
}

#[test]
fn refusals() {
    assert_eq!(weighted(&[1.0, 2.0], &[1.0], &[1.0, 1.0]), Err(LineError::Lengths));
    assert_eq!(weighted(&[1.0, 1.0], &[1.0, 2.0], &[1.0, 1.0]), Err(LineError::OnePlace));
    assert_eq!(weighted(&[1.0, 2.0], &[1.0, 2.0], &[1.0, 0.0]), Err(LineError::BadRow(1)));
}

const T: [&str; 11] = [
    "21.521", "22.012", "22.512", "23.003", "23.507", "23.999", "24.513", "25.002", "25.503", "26.010",
    "26.511",
];
const B: [&str; 11] = [
    "-0.171", "-0.169", "-0.166", "-0.159", "-0.164", "-0.165", "-0.156", "-0.157", "-0.159", "-0.161",
    "-0.160",
];

/// JCGM 100:2008 H.3 (published -0.1712(29), 0.00218(67), r -0.930, b(30) -0.1494, u 0.0041); all digits computed.
#[test]
fn thermometer() {
    let twenty = Dd::new(20.0);
    let t: Vec<Dd> = T.iter().map(|t| Dd::parse(t).unwrap() - twenty).collect();
    let b: Vec<Dd> = B.iter().map(|b| Dd::parse(b).unwrap()).collect();
    let fit = polynomial(&t, &b, 1, Constant::Fitted).unwrap();
    near(fit.coefficients[0], -0.171_203_790_131_35, 1e-14);
    near(fit.coefficients[1], 0.002_182_697_739_887_278, 1e-14);
    near(fit.residual_sd, 0.003_497_563_963_505_284, 1e-14);
    near(fit.standard_errors[0], 0.002_877_597_835_159_954, 1e-14);
    near(fit.standard_errors[1], 0.000_667_938_773_227_831_7, 1e-14);
    let r = fit.covariance[0][1] / (fit.standard_errors[0] * fit.standard_errors[1]);
    near(r, -0.930_429_603_093_445_9, 1e-14);
    assert_eq!(fit.dof, 9);
    near(fit.sum_of_squares, 0.000_110_096_583_109, 1e-11);

    // The same scatter as known uncertainties: the value at 30 degrees needs the covariance.
    let (eta, values): (Vec<f64>, Vec<f64>) = t.iter().zip(&b).map(|(t, b)| (t.to_f64(), b.to_f64())).unzip();
    let own = Covariance::new(vec![fit.residual_sd; 11]);
    let known = gls::fit(&eta, &values, &own, 1).unwrap();
    let at30 = gls::deviation_row(1, 10.0);
    near(known.value(&at30), -0.149_376_812_732_477_2, 1e-13);
    near(known.uncertainty(&at30), 0.004_138_595_752_854_947, 1e-13);
    near(known.chi2, 9.0, 1e-12);

    // H.3.6: an error of 0.005 common to all values goes into the intercept whole and into the slope not at all.
    let shared = gls::fit(&eta, &values, &own.with_shared(vec![0.005; 11]), 1).unwrap();
    near(shared.covariance[1][1].sqrt(), 0.000_667_938_773_227_8, 1e-12);
    near(shared.covariance[0][0].sqrt(), 0.005_768_931_382_926_76, 1e-12);
    near(shared.coefficients[1], fit.coefficients[1], 1e-12);
    let effective = welch_satterthwaite(&[(fit.standard_errors[0], 9.0), (0.005, f64::INFINITY)]);
    near(effective.dof, 145.379_647_210_072, 1e-12);
}
