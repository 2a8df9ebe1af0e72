//! A spar on supports, against closed forms of Euler-Bernoulli beams (textbook formulae).

use numerics::elastic::{ElasticError, deflection};

/// How far the spar moves at each place when each support alone moves by one: a row a place.
#[expect(clippy::unwrap_used, reason = "a deflection that fails fails the test")]
fn influences(supports: &[f64], places: &[f64]) -> Vec<Vec<f64>> {
    let alone = |j: usize| (0..supports.len()).map(|i| f64::from(u8::from(i == j))).collect::<Vec<f64>>();
    let columns: Vec<Vec<f64>> =
        (0..supports.len()).map(|j| deflection(supports, &alone(j), places).unwrap()).collect();
    (0..places.len()).map(|i| columns.iter().map(|column| column[i]).collect()).collect()
}

fn near(got: f64, want: f64) {
    assert!((got - want).abs() < 1e-12 * (1.0 + want.abs()), "{got:.17} {want:.17}");
}

#[test]
fn two_supports_make_a_straight_line() {
    let rows = influences(&[500.0, 2500.0], &[0.0, 500.0, 1500.0, 3000.0]);
    let want = [[1.25, -0.25], [1.0, 0.0], [0.5, 0.5], [-0.25, 1.25]];
    for (row, want) in rows.iter().zip(want) {
        near(row[0], want[0]);
        near(row[1], want[1]);
    }
}

/// Simply supported beam, load P at a (b = L - a): y(x) = P b x (L^2 - b^2 - x^2) / 6 EI L for x <= a.
#[test]
fn inner_support_is_a_point_load() {
    let (length, a) = (3000.0, 1000.0);
    let b = length - a;
    let load = |x: f64, b: f64| b * x * (length * length - b * b - x * x);
    let peak = load(a, b);
    for i in 0..=30 {
        let x = f64::from(i) * 100.0;
        let want = if x <= a { load(x, b) } else { load(length - x, a) } / peak;
        let got = deflection(&[0.0, a, length], &[0.0, 1.0, 0.0], &[x]).unwrap()[0];
        near(got, want);
    }
}

/// Overhang beyond an outer support stays straight with the end slope: centre lifted by 1, slope at the end 3/L.
#[test]
fn overhangs_stay_straight() {
    let got = deflection(&[0.0, 1.0, 2.0], &[0.0, 1.0, 0.0], &[-0.5, 2.5]).unwrap();
    near(got[0], -0.75);
    near(got[1], -0.75);
}

/// A beam on a pair of supports is not clamped, but lifting an end support of three gives, at the middle of the far
/// bay, the textbook -3/32 of the lift (equal bays).
#[test]
fn end_support_lifted() {
    let got = deflection(&[0.0, 1.0, 2.0], &[1.0, 0.0, 0.0], &[0.5, 1.0, 1.5]).unwrap();
    near(got[0], 13.0 / 32.0);
    near(got[1], 0.0);
    near(got[2], -3.0 / 32.0);
}

#[test]
fn rigid_motion_passes_through_and_order_does_not_matter() {
    let supports = [2000.0, 0.0, 700.0, 3100.0];
    let stations = [-200.0, 0.0, 300.0, 700.0, 1500.0, 2800.0, 3500.0];
    let rigid: Vec<f64> = supports.iter().map(|y| 2.0 + 0.01 * y).collect();
    for (got, y) in deflection(&supports, &rigid, &stations).unwrap().iter().zip(stations) {
        near(*got, 2.0 + 0.01 * y);
    }
    for row in influences(&supports, &stations) {
        near(row.iter().sum::<f64>(), 1.0);
    }
    let turned = influences(&[0.0, 700.0, 2000.0, 3100.0], &stations);
    for (a, b) in influences(&supports, &stations).iter().zip(turned) {
        assert_eq!([a[1], a[2], a[0], a[3]], b[..]);
    }
}

#[test]
fn refusals() {
    assert_eq!(deflection(&[1.0], &[1.0], &[0.0]), Err(ElasticError::TooFewSupports));
    assert_eq!(deflection(&[1.0, 2.0, 1.0], &[0.0; 3], &[0.0]), Err(ElasticError::SamePlace(0, 2)));
    assert_eq!(deflection(&[1.0, 2.0], &[1.0], &[0.0]), Err(ElasticError::BadInput));
    assert_eq!(deflection(&[1.0, f64::NAN], &[0.0; 2], &[0.0]), Err(ElasticError::BadInput));
}
