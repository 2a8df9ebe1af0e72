//! Linear programmes: those without an answer, and the minimum zone as one.

use numerics::conic::{ConicError, Expression, Programme};
use numerics::straight;
use proptest::prelude::*;

/// As a cone: the length of an empty vector is at most this expression.
fn at_least_zero(programme: &mut Programme, expression: Expression) {
    programme.length_at_most(expression, [Expression::default()]);
}

#[test]
fn refusals() {
    let mut endless = Programme::minimise(vec![-1.0]);
    at_least_zero(&mut endless, Expression::from(0.0).plus(1.0, 0));
    assert_eq!(endless.solve(), Err(ConicError::Unbounded));
    at_least_zero(&mut endless, Expression::from(0.0).plus(1.0, 1));
    assert_eq!(endless.solve(), Err(ConicError::BadInput));
    let mut nowhere = Programme::minimise(vec![1.0]);
    at_least_zero(&mut nowhere, Expression::from(-1.0).plus(1.0, 0));
    at_least_zero(&mut nowhere, Expression::from(-1.0).plus(-1.0, 0));
    assert_eq!(nowhere.solve(), Err(ConicError::Infeasible));
}

proptest! {
    #![proptest_config(crate::common::cases(64))]
    /// The minimum zone is twice the smallest largest distance from a line; hull and linear programme must agree.
    #[test]
    fn minimum_zone_by_linear_programme(z in prop::collection::vec(-2.0..2.0_f64, 3..60)) {
        let y: Vec<f64> = (0..z.len()).map(|i| i as f64 / (z.len() - 1) as f64).collect();
        // The largest distance, and the line's height and slope.
        let mut programme = Programme::minimise(vec![1.0, 0.0, 0.0]);
        for (y, z) in y.iter().zip(&z) {
            at_least_zero(&mut programme, Expression::from(-z).plus(1.0, 0).plus(1.0, 1).plus(*y, 2));
            at_least_zero(&mut programme, Expression::from(*z).plus(1.0, 0).plus(-1.0, 1).plus(-y, 2));
        }
        let (largest, hull) = (programme.solve().unwrap().unknowns[0], straight::minimum_zone(&y, &z).unwrap());
        prop_assert!((2.0 * largest - hull.straightness).abs() < 1e-7);
    }
}
