//! Combined rounds: plain means for equal sets, generalised least squares with full matrices otherwise.

use numerics::display::alike;
use numerics::repeats::{Agreement, Repeat};
use numerics::rng::Rng;
use numerics::rounds::{Value, Zero, agreements, together};

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got:.12} {want:.12}");
}

fn value(station: usize, round: usize, value: f64, zero: f64) -> Value {
    let zero = (zero != 0.0).then_some(Zero { which: round, per_u: zero });
    Value { station, round, value, own: 0.03, lasting: 0.0, zero }
}

fn walks(stations: usize, rounds: usize, zero: f64, mut d: impl FnMut(usize, usize) -> f64) -> Vec<Value> {
    (0..rounds)
        .flat_map(|r| (0..stations).map(move |i| (i, r)))
        .map(|(i, r)| value(i, r, d(i, r), zero))
        .collect()
}

/// Equal sets: mean, s^2/R, u_z^2/R.
#[test]
fn equal_sets_are_averaged() {
    let mut rng = Rng::new(4);
    let d: Vec<Vec<f64>> = (0..3).map(|_| (0..6).map(|_| rng.normal()).collect()).collect();
    for zero in [0.0, 0.1] {
        let all = together(6, &walks(6, 3, zero, |i, r| d[r][i]));
        for i in 0..6 {
            near(all.values[i], (d[0][i] + d[1][i] + d[2][i]) / 3.0, 1e-12);
            near(all.own[i], 0.03 / 3.0_f64.sqrt(), 1e-12);
            for j in 0..6 {
                let shared: f64 = all.shared.iter().map(|p| p[i] * p[j]).sum();
                near(shared, zero * zero / 3.0, 1e-12);
            }
        }
    }
}

/// One round is itself.
#[test]
fn one_round_is_unchanged() {
    let all = together(4, &walks(4, 1, 0.2, |i, _| i as f64));
    for i in 0..4 {
        near(all.values[i], i as f64, 1e-12);
        near(all.own[i], 0.03, 1e-15);
        near(all.shared[0][i], 0.2, 1e-14);
    }
}

/// The part of the rounding that repeats in every round does not average out.
#[test]
fn a_lasting_part_stays() {
    let mut values = walks(3, 4, 0.0, |_, _| 0.0);
    values.iter_mut().for_each(|v| v.lasting = 0.02);
    // s^2 = 0.03^2 = a^2 + l^2: a^2/4 + l^2.
    let want = ((0.0009 - 0.0004) / 4.0 + 0.0004_f64).sqrt();
    near(together(3, &values).own[1], want, 1e-12);
    near(together(3, &values[..3]).own[1], 0.03, 1e-15);
}

/// Unequal sets compared with full matrices: (A' V^-1 A)^-1 A' V^-1 d.
#[test]
fn unequal_sets_are_least_squares() {
    let mut rng = Rng::new(9);
    let mut values = walks(5, 1, 0.1, |_, _| 0.0);
    values.extend([
        value(1, 1, 0.0, 0.1),
        value(3, 1, 0.0, -0.1),
        value(3, 2, 0.0, 0.0),
        value(4, 2, 0.0, 0.0),
    ]);
    values.iter_mut().for_each(|v| v.value = rng.normal());
    let n = values.len();
    let v = |a: usize, b: usize| -> f64 {
        let (x, y) = (&values[a], &values[b]);
        let own = if a == b { x.own * x.own } else { 0.0 };
        let shared = match (x.zero, y.zero) {
            (Some(p), Some(q)) if p.which == q.which => p.per_u * q.per_u,
            _ => 0.0,
        };
        own + shared
    };
    let precision = inverse((0..n).map(|a| (0..n).map(|b| v(a, b)).collect()).collect());
    let (mut normal, mut right) = (vec![vec![0.0; 5]; 5], vec![0.0; 5]);
    for a in 0..n {
        for b in 0..n {
            normal[values[a].station][values[b].station] += precision[a][b];
            right[values[a].station] += precision[a][b] * values[b].value;
        }
    }
    let covariance = inverse(normal);
    let all = together(5, &values);
    for i in 0..5 {
        near(all.values[i], (0..5).map(|j| covariance[i][j] * right[j]).sum(), 1e-10);
        for j in 0..5 {
            let own = if i == j { all.own[i] * all.own[i] } else { 0.0 };
            let shared: f64 = all.shared.iter().map(|p| p[i] * p[j]).sum();
            near(own + shared, covariance[i][j], 1e-12);
        }
    }
}

/// From the formulas for equal sets: Q_i on (R-1)(n-1), Q_z on R-1.
#[test]
fn agreement_by_its_formulas() {
    let mut rng = Rng::new(5);
    let d: Vec<Vec<f64>> = (0..3).map(|_| (0..7).map(|_| 0.03 * rng.normal()).collect()).collect();
    for zero in [0.0_f64, 0.1] {
        let found = agreements(7, &walks(7, 3, zero, |i, r| d[r][i]));
        let station = |i: usize| (0..3).map(|r| d[r][i]).sum::<f64>() / 3.0;
        let round = |r: usize| d[r].iter().sum::<f64>() / 7.0;
        let all = (0..3).map(round).sum::<f64>() / 3.0;
        let mut stations = 0.0;
        for (r, row) in d.iter().enumerate() {
            for (i, x) in row.iter().enumerate() {
                stations += (x - station(i) - round(r) + all).powi(2) / 0.0009;
            }
        }
        let wholes: f64 = (0..3).map(|r| (round(r) - all).powi(2) / (zero * zero + 0.0009 / 7.0)).sum();
        near(found.stations.chi2, stations, 1e-9);
        near(found.wholes.chi2, wholes, 1e-9);
        assert_eq!((found.stations.dof, found.wholes.dof), (12, 2));
        near(found.by_station.iter().map(|s| s.chi2).sum(), stations, 1e-9);
    }
}

/// A station measured again alone is not a walk along the wing: it is compared as a station.
#[test]
fn a_station_measured_again_alone_is_compared_too() {
    let mut values = walks(6, 1, 0.0, |_, _| 0.0);
    values.push(value(2, 1, 0.5, 0.0));
    let found = agreements(6, &values);
    assert_eq!((found.stations.dof, found.wholes.dof), (1, 0));
    near(found.stations.chi2, 0.25 / 0.0018, 1e-9);
    assert!(found.by_station[2].p() < 1e-6 && found.by_station[3].p() == 1.0);
    // With a zero that may differ from round to round: (d - d')^2 / (2 s^2 + 2 u_z^2).
    let mut values = walks(6, 1, 0.1, |_, _| 0.0);
    values.push(value(2, 1, 0.5, 0.1));
    near(agreements(6, &values).stations.chi2, 0.25 / (0.0018 + 0.02), 1e-9);
}

/// The correlation of two rounding errors: 1 without noise, 0 with much; in between, compared with a simulation of
/// two rounded readings.
#[test]
fn a_display_rounds_repeats_alike() {
    near(alike(0.1, 0.0), 1.0, 1e-12);
    assert!(alike(0.1, 0.1) < 1e-15);
    assert_eq!(alike(0.0, 0.1), 0.0);
    let mut rng = Rng::new(7);
    for sd in [0.01, 0.02, 0.03] {
        let (mut both, mut one) = (0.0, 0.0);
        for _ in 0..200_000 {
            let truth = 0.1 * rng.uniform();
            let mut error = || {
                let x = truth + sd * rng.normal();
                (x / 0.1).round() * 0.1 - x
            };
            let (a, b) = (error(), error());
            both += a * b;
            one += a * a;
        }
        near(alike(0.1, sd), both / one, 0.01);
    }
}

#[test]
fn repeats_against_a_claim() {
    let mut repeats = Agreement::default();
    assert_eq!((repeats.p(), repeats.ratio()), (1.0, 1.0));
    let of = |values: &'static [f64]| values.iter().map(|v| Repeat { value: *v, sd: 0.5 });
    repeats.add(of(&[1.0, 2.0, 3.0]));
    repeats.add(of(&[5.0]));
    repeats.add(of(&[0.0, 1.0]));
    assert_eq!((repeats.chi2, repeats.dof), (10.0, 3));
    near(repeats.ratio(), 10.0 / 3.0, 1e-15);
    // chi-squared 10 on 3, by the closed form 2 (1 - Phi(x) + x phi(x)), x = sqrt(10).
    near(repeats.p(), 0.018_566_135_463, 1e-10);
}

/// The inverse by Gauss-Jordan elimination.
fn inverse(matrix: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let n = matrix.len();
    let unit = |i: usize| (0..n).map(move |j| f64::from(u8::from(i == j)));
    let mut m: Vec<Vec<f64>> =
        matrix.into_iter().enumerate().map(|(i, r)| r.into_iter().chain(unit(i)).collect()).collect();
    for k in 0..n {
        let pivot = m[k][k];
        m[k].iter_mut().for_each(|x| *x /= pivot);
        let row = m[k].clone();
        for (_, line) in m.iter_mut().enumerate().filter(|(i, _)| *i != k) {
            let factor = line[k];
            line.iter_mut().zip(&row).for_each(|(x, r)| *x -= factor * r);
        }
    }
    m.into_iter().map(|r| r[n..].to_vec()).collect()
}
