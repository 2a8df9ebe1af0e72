//! Straightness about the three reference lines, level walks and line sag.

use numerics::gls::Covariance;
use numerics::straight::*;
use proptest::prelude::*;

fn near(got: f64, want: f64, relative: f64) {
    assert!((got - want).abs() <= relative * want.abs().max(1e-300), "{got:.17} {want:.17}");
}

/// Constructed cases with exact answers (fractions).
#[test]
fn constructed_cases() {
    let y: Vec<f64> = (0..6).map(f64::from).collect();
    let z = [0.0, 2.0, 1.0, 4.0, 3.0, 6.0];
    near(end_points(&y, &z).unwrap(), 13.0 / 5.0, 1e-15);
    near(least_squares(&y, &z).unwrap(), 73.0 / 35.0, 1e-15);
    let mz = minimum_zone(&y, &z).unwrap();
    near(mz.straightness, 2.0, 1e-15);
    near(mz.line.slope, 1.0, 1e-15);

    let y: Vec<f64> = (0..8).map(f64::from).collect();
    let z = [0.0, 3.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0];
    near(end_points(&y, &z).unwrap(), 3.0, 1e-15);
    near(least_squares(&y, &z).unwrap(), 45.0 / 14.0, 1e-15);
    near(minimum_zone(&y, &z).unwrap().straightness, 3.0, 1e-15);
}

#[test]
fn refusals() {
    assert_eq!(minimum_zone(&[0.0, 1.0], &[0.0]), Err(StraightError::Lengths { places: 2, offsets: 1 }));
    assert_eq!(minimum_zone(&[2.0, 2.0], &[0.0, 1.0]), Err(StraightError::OnePlace));
    assert_eq!(least_squares(&[], &[]), Err(StraightError::OnePlace));
    assert_eq!(end_points(&[0.0, 1.0], &[0.0, f64::NAN]), Err(StraightError::BadNumber(1)));
}

/// Dense search over slopes: an independent check of the minimum zone.
fn searched(y: &[f64], z: &[f64]) -> f64 {
    let width = |m: f64| {
        let rest = y.iter().zip(z).map(|(y, z)| z - m * y);
        let (low, high) = rest.fold((f64::MAX, f64::MIN), |(l, h), r| (l.min(r), h.max(r)));
        high - low
    };
    let (mut low, mut high) = (-1e4, 1e4);
    for _ in 0..300 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if width(a) < width(b) { high = b } else { low = a }
    }
    width(0.5 * (low + high))
}

prop_compose! {
    fn profile()(points in prop::collection::vec((0.0..3000.0_f64, -2.0..2.0_f64), 2..40)) -> (Vec<f64>, Vec<f64>) {
        let (mut y, z): (Vec<f64>, Vec<f64>) = points.into_iter().unzip();
        y[0] = 3100.0;
        (y, z)
    }
}

proptest! {
    #![proptest_config(crate::common::cases(256))]
    /// ISO 12780-1: the minimum zone is the smallest; it and least squares do not depend on how the part is placed.
    #[test]
    fn zone_is_least_and_a_straight_line_changes_nothing(
        (y, z) in profile(), a in -50.0..50.0_f64, b in -0.02..0.02_f64
    ) {
        let mz = minimum_zone(&y, &z).unwrap();
        let ls = least_squares(&y, &z).unwrap();
        let ends = end_points(&y, &z).unwrap();
        prop_assert!(mz.straightness <= ls * (1.0 + 1e-12));
        prop_assert!(mz.straightness <= ends * (1.0 + 1e-12));
        let tilted: Vec<f64> = y.iter().zip(&z).map(|(y, z)| z + a + b * y).collect();
        prop_assert!((minimum_zone(&y, &tilted).unwrap().straightness - mz.straightness).abs() < 1e-12);
        prop_assert!((least_squares(&y, &tilted).unwrap() - ls).abs() < 1e-12);
        prop_assert!((end_points(&y, &tilted).unwrap() - ends).abs() < 1e-12);
    }

    #[test]
    fn the_zone_agrees_with_a_search_and_encloses_the_profile((y, z) in profile()) {
        let mz = minimum_zone(&y, &z).unwrap();
        prop_assert!((mz.straightness - searched(&y, &z)).abs() < 1e-9);
        for r in mz.line.deviations(&y, &z) {
            prop_assert!(r.abs() <= 0.5 * mz.straightness + 1e-12);
        }
        let sum: f64 = mz.contacts.iter().map(|c| c.weight * z[c.point]).sum();
        prop_assert!((sum - mz.straightness).abs() < 1e-12);
    }

    #[test]
    fn order_of_readings_does_not_matter((y, z) in profile(), turn in 0..40_usize) {
        let (mut yy, mut zz) = (y.clone(), z.clone());
        yy.rotate_left(turn % y.len());
        zz.rotate_left(turn % y.len());
        prop_assert_eq!(
            minimum_zone(&y, &z).unwrap().straightness.to_bits(),
            minimum_zone(&yy, &zz).unwrap().straightness.to_bits()
        );
    }
}

/// The parabola compared with the exact catenary: music wire 0.5 mm, 3 m, 50 N (computed: 0.340096953 and 0.340096958
/// mm).
#[test]
fn sag_of_a_line() {
    let weight = 0.015_115_420_1e-3; // N/mm
    near(line_sag(weight, 3000.0, 50.0, 1500.0), 0.340_096_953, 1e-8);
    near(line_sag(weight, 3000.0, 50.0, 750.0), 0.340_096_953 * 0.75, 1e-8);
    assert_eq!(line_sag(weight, 3000.0, 50.0, 3000.0), 0.0);
    let a: f64 = 50.0 / weight; // catenary parameter, tension at the bottom
    near(a * ((1500.0 / a).cosh() - 1.0), line_sag(weight, 3000.0, 50.0, 1500.0), 1e-6);
}

/// Sums and their growing uncertainty, compared with the covariance written out by hand.
#[test]
fn level_walk() {
    let walk = LevelWalk::new(&[0.001, -0.002, 0.003], &[100.0, 200.0, 100.0], &[1e-4; 3]).unwrap();
    assert_eq!(walk.places, [0.0, 100.0, 300.0, 400.0]);
    near(walk.heights[1], 0.1, 1e-15);
    near(walk.heights[2], -0.3, 1e-15);
    near(walk.heights[3], 0.0, f64::INFINITY);
    near(walk.covariance(1, 1), 1e-4, 1e-12);
    near(walk.covariance(1, 3), 1e-4, 1e-12);
    near(walk.covariance(3, 1), walk.covariance(1, 3), 1e-15);
    near(walk.uncertainty(3), 6e-4_f64.sqrt(), 1e-12);
    assert_eq!(LevelWalk::new(&[0.1], &[0.0], &[0.1]), Err(StraightError::BadNumber(0)));
}

/// Three points touch a zone, and its width is linear in them: simulation and propagation must agree.
#[test]
fn simulated_uncertainty_agrees_with_propagation_where_three_points_hold() {
    let (y, z) = ([0.0, 1.0, 2.0], [0.0, 10.0, 0.0]);
    let covariance = Covariance::new(vec![0.1, 0.2, 0.1]).with_shared(vec![3.0, 3.0, 3.0]);
    let mz = minimum_zone(&y, &z).unwrap();
    near(mz.straightness, 10.0, 1e-15);
    let own = [0.01, 0.04, 0.01];
    let u = mz.uncertainty(|i, j| 9.0 + if i == j { own[i] } else { 0.0 });
    near(u, (0.04 + 0.005_f64).sqrt(), 1e-12);
    let spread = simulate_covariance(&y, &z, &covariance, 20_000, 7).unwrap();
    near(spread.sd, u, 0.02);
    near(spread.mean, 10.0, 1e-3);
    near(spread.high - spread.low, 2.0 * 1.96 * u, 0.03);
    assert_eq!(spread, simulate_covariance(&y, &z, &covariance, 20_000, 7).unwrap());
}

/// Scatter only adds: a straight part measured with noise never looks straight.
#[test]
fn scatter_widens_the_zone() {
    let y: Vec<f64> = (0..10).map(f64::from).collect();
    let spread = simulate_covariance(&y, &[0.0; 10], &Covariance::new(vec![0.1; 10]), 2000, 3).unwrap();
    assert!(spread.low > 0.1 && spread.mean > 0.2);
    // The errors of a walk add up, so four times as many steps give about twice the zone.
    let walked = |steps: usize| {
        let walk = LevelWalk::new(&vec![0.0; steps], &vec![1.0; steps], &vec![0.1; steps]);
        walk.unwrap().simulate(2000, 3).unwrap().mean
    };
    let ratio = walked(64) / walked(16);
    assert!(ratio > 1.9 && ratio < 2.4, "{ratio}");
}
