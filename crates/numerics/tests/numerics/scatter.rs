//! Intervals that allow for scatter beyond the covariance, compared with numbers computed outside this program.
#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use crate::common::no_scatter;
use numerics::decide::Limits;
use numerics::mixture::{Mixture, Part};
use numerics::scatter::{Cause, Scatter, Variance};

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got:.8} {want:.8}");
}

fn scatter(dof: usize, chi2: f64) -> Scatter {
    // nu/tr(P) is 1.
    Scatter::of(chi2, dof, dof as f64).unwrap()
}

/// 200 equally likely quantiles; 95 % half widths computed by a separate program for two cases: all of the variance
/// grows with the scatter, or 0.9 of it does beside 1 that does not.
#[test]
fn half_widths() {
    let numbers = [
        (2, 2.0, 4.2995, 4.4413),
        (3, 3.0, 3.1915, 3.5846),
        (4, 4.0, 2.8047, 3.2994),
        (4, 20.0, 6.2031, 6.1648),
        (7, 7.0, 2.4227, 3.0195),
    ];
    for (dof, chi2, all, part) in numbers {
        let s = scatter(dof, chi2);
        near(s.error(variance(1.0, 1.0, Cause::Things)).half_width(0.95), all, 2e-4);
        near(s.error(variance(1.9, 0.9, Cause::Things)).half_width(0.95), part, 2e-4);
        // Whichever the cause, the larger counts.
        near(s.error(variance(1.0, 0.5, Cause::Either)).half_width(0.95), all, 2e-4);
        near(s.error(variance(1.0, 1.0, Cause::Either)).half_width(0.95), all, 2e-4);
    }
    // For large S the half width goes to t sqrt(S/nu): 2.776445105 sqrt(5) for nu 4, S 20.
    near(2.776_445_105 * 5.0_f64.sqrt(), 6.2083, 5e-5);
}

fn variance(known: f64, per_tau2: f64, cause: Cause) -> Variance {
    Variance { known, per_tau2, cause }
}

#[test]
fn without_scatter_it_is_normal() {
    for quiet in [no_scatter(), scatter(9, 1e-6)] {
        let error = quiet.error(variance(4.0, 3.0, Cause::Either));
        near(error.half_width(0.95), 2.0 * 1.959_963_984_540_054, 1e-9);
        near(error.two_sided(2.0 * 1.959_963_984_540_054), 0.05, 1e-12);
    }
    assert!(Scatter::of(1.0, 0, 1.0).is_none(), "nothing is known without degrees of freedom");
}

/// The half width solves its equation, and conformity is the probability between the limits.
#[test]
fn a_mixture_is_one_distribution() {
    let mixed = Mixture::new(vec![Part { weight: 0.25, u: 3.0 }, Part { weight: 0.75, u: 1.0 }]);
    for level in [0.5, 0.9, 0.95, 0.99] {
        near(mixed.two_sided(mixed.half_width(level)), 1.0 - level, 1e-10);
    }
    let limits = Limits { lower: Some(-2.0), upper: Some(2.0) };
    near(mixed.conformity(0.0, limits), 1.0 - mixed.two_sided(2.0), 1e-14);
    let one = Limits { lower: None, upper: Some(1.0) };
    near(mixed.conformity(1.0, one), 0.5, 1e-14);
    // Two independent errors: variances add part by part.
    let sum = mixed.plus(&Mixture::normal(4.0));
    assert_eq!(
        sum,
        Mixture::new(vec![Part { weight: 0.25, u: 5.0 }, Part { weight: 0.75, u: libm::hypot(1.0, 4.0) }])
    );
    // Reducing 200 parts to groups moves the half width by no more than a few thousandths.
    let many = scatter(4, 8.0).error(variance(1.0, 1.0, Cause::Things));
    near(many.plus(&Mixture::normal(0.0)).half_width(0.95) / many.half_width(0.95), 1.0, 0.01);
}

#[test]
fn a_quantile_without_uncertainty_is_the_value() {
    let certain = Mixture::normal(0.0);
    assert_eq!(certain.half_width(0.95), 0.0);
    assert_eq!(certain.conformity(1.0, Limits { lower: Some(0.0), upper: Some(2.0) }), 1.0);
}
