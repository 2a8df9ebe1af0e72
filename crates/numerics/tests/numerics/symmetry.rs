//! Left against right: distances between marks that the test turns itself.

use numerics::rigging::symmetry::{Pair, SymmetryError, fit};

/// Distances between marks that this function places, turns and measures.
fn measured(yaw: f64, fuselage: &[(f64, f64)], out: f64, u: Option<f64>) -> Vec<Pair> {
    let (s, c) = (libm::sin(yaw), libm::cos(yaw));
    let pair = |&(aft, right): &(f64, f64)| Pair {
        aft,
        out,
        up: 0.0,
        left: libm::hypot(aft + out * s, right + out * c),
        right: libm::hypot(aft - out * s, right - out * c),
        u,
    };
    fuselage.iter().map(pair).collect()
}

/// Derived, no publisher: marks 4000 out; on the fuselage 4300 aft and 4 right, 1500 ahead and 2 left; the wing turned by
/// 0.3 degrees makes 5890.852, 5854.733 and 4262.766, 4281.219, and 0.35927 degrees against the line of the marks.
#[test]
fn a_wing_turned_by_three_tenths() {
    let made = measured(f64::to_radians(0.3), &[(4300.0, 4.0), (-1500.0, -2.0)], 4000.0, Some(0.5));
    for (pair, (left, right)) in made.iter().zip([(5890.852, 5854.733), (4262.766, 4281.219)]) {
        assert!((pair.left - left).abs() < 5e-4 && (pair.right - right).abs() < 5e-4, "{pair:?}");
    }
    let found = fit(&made).unwrap();
    assert!((found.yaw.to_degrees() - 0.35927).abs() < 5e-6, "{}", found.yaw.to_degrees());
    assert!((found.offset + 0.448).abs() < 1e-3, "{}", found.offset);
    assert_eq!((found.dof, found.p), (0, None));
}

/// By differences: the stated uncertainty is the effect of a small change of every distance.
#[test]
fn the_uncertainty_matches_small_changes() {
    let marks = [(4300.0, 0.0), (-1500.0, 0.0), (2000.0, 0.0)];
    let made = measured(0.004, &marks, 4000.0, Some(0.4));
    let found = fit(&made).unwrap();
    let mut variance = 0.0;
    for i in 0..6 {
        let mut other = made.clone();
        let to = if i % 2 == 0 { &mut other[i / 2].left } else { &mut other[i / 2].right };
        *to += 0.01;
        variance += ((fit(&other).unwrap().yaw - found.yaw) / 0.01 * 0.4).powi(2);
    }
    let u = found.u.unwrap().yaw;
    assert!((variance.sqrt() / u - 1.0).abs() < 1e-4, "{} {u}", variance.sqrt());
    assert!(found.p.unwrap() > 0.99);
    // One mark 20 mm off the line of the others contradicts them.
    let bent = measured(0.004, &[(4300.0, 0.0), (-1500.0, 0.0), (2000.0, 20.0)], 4000.0, Some(0.4));
    assert!(fit(&bent).unwrap().p.unwrap() < 1e-6);
}

#[test]
fn one_pair_cannot_tell() {
    let made = measured(f64::to_radians(0.3), &[(4300.0, 0.0)], 4000.0, Some(0.5));
    let Err(SymmetryError::One(one)) = fit(&made) else { panic!("one pair is not enough") };
    assert!((one.if_turned.unwrap().to_degrees() - 0.3).abs() < 1e-9);
    assert!((one.if_off_centre - 4300.0 * libm::sin(f64::to_radians(0.3))).abs() < 1e-9);
    // A second mark close beside the first adds no information.
    let twice = measured(0.01, &[(4300.0, 0.0), (4310.0, 0.0)], 4000.0, None);
    assert!(matches!(fit(&twice), Err(SymmetryError::One(_))));
    let abeam = measured(0.01, &[(0.0, 3.0)], 4000.0, None);
    let Err(SymmetryError::One(one)) = fit(&abeam) else { panic!("a mark between the wings") };
    assert_eq!(one.if_turned, None);
    assert_eq!(fit(&[]), Err(SymmetryError::Empty));
}
