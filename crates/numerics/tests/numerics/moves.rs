//! Minimax moves: cases solved by hand, the minimum zone as the same programme, and bounds.

use numerics::conic::{ConicError, Expression, Programme};
use numerics::minimax::Task;
use numerics::straight;
use proptest::prelude::*;

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got:.15} {want:.15}");
}

/// One screw that lifts three points alike: the middle of the range is best.
#[test]
fn one_move() {
    let task = Task {
        deviations: &[0.0, 1.0, 4.0],
        influences: &[vec![1.0], vec![1.0], vec![1.0]],
        tolerances: &[1.0, 1.0, 1.0],
        bounds: &[(f64::NEG_INFINITY, f64::INFINITY)],
    };
    let best = task.smallest().unwrap();
    near(best.moves[0], 2.0, 1e-8);
    near(best.largest, 2.0, 1e-8);
    // Twice the tolerance on the last point draws the line at 4/3: deviations 4/3 of 1 and 8/3 of 2.
    let wide = Task { tolerances: &[1.0, 1.0, 2.0], ..task }.smallest().unwrap();
    near(wide.moves[0], 4.0 / 3.0, 1e-8);
    near(wide.largest, 4.0 / 3.0, 1e-8);
    // Travel ends at 1.
    let short = Task { bounds: &[(0.0, 1.0)], ..task }.smallest().unwrap();
    near(short.moves[0], 1.0, 1e-8);
    assert!(short.moves[0] <= 1.0);
    near(short.largest, 3.0, 1e-8);
}

/// Two supports that both could do it: the shortest way uses the stronger one only.
#[test]
fn shortest() {
    let task = Task {
        deviations: &[1.0],
        influences: &[vec![0.5, 1.0]],
        tolerances: &[0.2],
        bounds: &[(-5.0, 5.0), (-5.0, 5.0)],
    };
    let moves = task.shortest(1.0, &[1.0, 1.0]).unwrap();
    near(moves.moves[0], 0.0, 1e-7);
    near(moves.moves[1], 0.8, 1e-7);
    near(moves.largest, 1.0, 1e-6);
    let dear = task.shortest(1.0, &[1.0, 3.0]).unwrap();
    near(dear.moves[0], 1.6, 1e-7);
    let bound = Task { bounds: &[(-0.1, 0.1), (-0.1, 0.1)], ..task };
    assert_eq!(bound.shortest(1.0, &[1.0, 1.0]), Err(ConicError::Infeasible));
}

#[test]
fn refusals() {
    let task =
        Task { deviations: &[1.0], influences: &[vec![1.0]], tolerances: &[1.0], bounds: &[(1.0, -1.0)] };
    assert_eq!(task.smallest(), Err(ConicError::Infeasible));
    assert_eq!(Task { tolerances: &[0.0], ..task }.smallest(), Err(ConicError::BadInput));
    assert_eq!(Task { influences: &[], ..task }.smallest(), Err(ConicError::BadInput));
    let mut endless = Programme::minimise(vec![-1.0]);
    endless.at_least_zero(Expression::new(0.0, &[(0, 1.0)]));
    assert_eq!(endless.solve(), Err(ConicError::Unbounded));
    endless.at_least_zero(Expression::new(0.0, &[(1, 1.0)]));
    assert_eq!(endless.solve(), Err(ConicError::BadInput));
}

proptest! {
    #![proptest_config(crate::common::cases(64))]
    /// The minimum zone is twice the smallest largest distance from a line: hull and linear programme must agree.
    #[test]
    fn minimum_zone_by_linear_programme(z in prop::collection::vec(-2.0..2.0_f64, 3..60)) {
        let y: Vec<f64> = (0..z.len()).map(|i| i as f64 / (z.len() - 1) as f64).collect();
        let rows: Vec<Vec<f64>> = y.iter().map(|y| vec![1.0, *y]).collect();
        let task = Task {
            deviations: &z,
            influences: &rows,
            tolerances: &vec![1.0; z.len()],
            bounds: &[(f64::NEG_INFINITY, f64::INFINITY); 2],
        };
        let (programme, hull) = (task.smallest().unwrap(), straight::minimum_zone(&y, &z).unwrap());
        prop_assert!((2.0 * programme.largest - hull.straightness).abs() < 1e-8);
    }

    /// Nothing nearby is better (the programme is convex, so nothing at all is).
    #[test]
    fn no_neighbour_is_better(
        rows in prop::collection::vec((-3.0..3.0_f64, prop::array::uniform3(-1.0..1.0_f64), 0.5..2.0_f64), 2..30),
        step in prop::array::uniform3(-0.05..0.05_f64),
    ) {
        let deviations: Vec<f64> = rows.iter().map(|r| r.0).collect();
        let influences: Vec<Vec<f64>> = rows.iter().map(|r| r.1.to_vec()).collect();
        let tolerances: Vec<f64> = rows.iter().map(|r| r.2).collect();
        let bounds = [(-1.0, 1.0); 3];
        let task = Task { deviations: &deviations, influences: &influences, tolerances: &tolerances, bounds: &bounds };
        let best = task.smallest().unwrap();
        let other: Vec<f64> = best.moves.iter().zip(step).map(|(m, s)| (m + s).clamp(-1.0, 1.0)).collect();
        prop_assert!(task.largest(&other) >= best.largest - 1e-8);
        let shorter = task.shortest(best.largest * 1.05, &[1.0; 3]).unwrap();
        let length = |m: &[f64]| m.iter().map(|m| m.abs()).sum::<f64>();
        prop_assert!(length(&shorter.moves) <= length(&best.moves) + 1e-7);
        prop_assert!(shorter.largest <= best.largest * 1.05 + 1e-7);
    }
}
