//! Simultaneous bands: exact where theory gives the factor, by simulation elsewhere.

use crate::common::no_scatter;
use numerics::bands::simultaneous_factor;
use numerics::dist;
use numerics::gls::{Covariance, change_row, deviation_row, fit};
use numerics::rng::Rng;
use numerics::scatter::Scatter;

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got:.12} {want:.12}");
}

fn covariance(order: usize) -> Vec<Vec<f64>> {
    let eta: Vec<f64> = (0..12).map(|i| f64::from(i) / 11.0).collect();
    let v = Covariance::new(vec![0.03; 12]).with_shared(vec![0.05; 12]);
    fit(&eta, &eta, &v, order).map(|f| f.covariance).unwrap_or_default()
}

fn grid(order: usize, row: fn(usize, f64) -> Vec<f64>) -> Vec<Vec<f64>> {
    (0..=40).map(|i| row(order, f64::from(i) / 40.0)).collect()
}

#[test]
fn one_dimension_is_pointwise() {
    let twist = grid(1, change_row);
    near(simultaneous_factor(&twist, &covariance(1), &no_scatter(), 0.95, 1), 1.959_963_984_540_054, 1e-12);
    near(
        simultaneous_factor(&[vec![1.0]], &[vec![4.0]], &no_scatter(), 0.95, 1),
        1.959_963_984_540_054,
        1e-12,
    );
    // No uncertainty at all.
    near(
        simultaneous_factor(&[vec![0.0, 0.0]], &covariance(1), &no_scatter(), 0.95, 1),
        1.959_963_984_540_054,
        1e-12,
    );
}

/// For a line over its whole length the band is that of Working and Hotelling: sqrt(chi-squared with 2) if the scale
/// is known. With a large residual chi-squared S on 9 degrees of freedom the scale is S over chi-squared, and the
/// factor approaches theirs with an estimated scale, sqrt(2 F) = 2.9177027707 (the thermometer of JCGM 100 H.3),
/// times sqrt(S/9).
#[test]
fn whole_line() {
    let far: Vec<Vec<f64>> = (0..2000)
        .map(|i| {
            let angle = f64::from(i) / 2000.0 * std::f64::consts::PI;
            vec![angle.cos(), angle.sin()]
        })
        .collect();
    let factor = |scatter: &Scatter| simultaneous_factor(&far, &covariance(1), scatter, 0.95, 1);
    near(factor(&no_scatter()), dist::chi2_quantile(0.95, 2.0).sqrt(), 1e-4);
    near(factor(&Scatter::of(900.0, 9, 9.0).unwrap()) / 10.0, 2.917_702_770_7, 0.02);
}

/// Two rows at right angles are independent: k with (2 Phi(k) - 1)^2 = 0.95.
#[test]
fn independent_rows() {
    for n in 2..=4_usize {
        let unit: Vec<Vec<f64>> =
            (0..n).map(|i| (0..n).map(|j| f64::from(u8::from(i == j))).collect()).collect();
        let want = dist::normal_quantile(0.5 + 0.5 * 0.95_f64.powf(1.0 / n as f64));
        near(simultaneous_factor(&unit, &unit, &no_scatter(), 0.95, 1), want, 2e-3);
    }
}

/// Share of simulated errors that are inside the band at all rows.
fn covered(rows: &[Vec<f64>], covariance: &[Vec<f64>], scatter: &Scatter, k: f64, seed: u64) -> f64 {
    let n = covariance.len();
    let mut root = vec![vec![0.0; n]; n];
    for i in 0..n {
        for j in 0..=i {
            let sum: f64 = (0..j).map(|m| root[i][m] * root[j][m]).sum();
            root[i][j] =
                if i == j { (covariance[i][i] - sum).sqrt() } else { (covariance[i][j] - sum) / root[j][j] };
        }
    }
    // A row of a draw, in its standard deviations. Written without iterators: the tests are not optimised.
    let standard = |row: &Vec<f64>| -> Vec<f64> {
        let by: Vec<f64> = (0..n).map(|j| (0..n).map(|i| row[i] * root[i][j]).sum()).collect();
        let sd = by.iter().map(|w| w.powi(2)).sum::<f64>().sqrt();
        by.iter().map(|w| w / sd).collect()
    };
    let standard: Vec<Vec<f64>> = rows.iter().map(standard).collect();
    let mut rng = Rng::new(seed);
    let draws = 100_000;
    let mut inside = 0;
    for _ in 0..draws {
        let z: Vec<f64> = (0..n).map(|_| rng.normal()).collect();
        let mut left = rng.uniform();
        let share = scatter.shares().iter().find(|s| {
            left -= s.weight;
            left < 0.0
        });
        let within = k * share.map_or(1.0, |s| 1.0 / s.phi.sqrt());
        let stays = |row: &Vec<f64>| {
            let (mut off, mut j) = (0.0, 0);
            while j < n {
                off += row[j] * z[j];
                j += 1;
            }
            off.abs() <= within
        };
        inside += i32::from(standard.iter().all(stays));
    }
    f64::from(inside) / f64::from(draws)
}

/// Every order and both kinds of band cover 95 %, within what 100,000 draws can tell (three standard errors).
#[test]
fn coverage() {
    for order in 1..=3 {
        let c = covariance(order);
        for scatter in [no_scatter(), Scatter::of(4.0, 4, 4.0).unwrap(), Scatter::of(40.0, 4, 4.0).unwrap()] {
            let rows = grid(order, deviation_row);
            let k = simultaneous_factor(&rows, &c, &scatter, 0.95, 1);
            let share = covered(&rows, &c, &scatter, k, 10 + order as u64);
            assert!((share - 0.95).abs() < 3.0 * 0.00069, "order {order} {scatter:?} k {k} {share}");
        }
    }
}

/// Pointwise factors, the negative control, do not cover all rows at once.
#[test]
fn pointwise_does_not_cover_at_once() {
    let rows = grid(3, deviation_row);
    assert!(covered(&rows, &covariance(3), &no_scatter(), 1.96, 3) < 0.90);
}

#[test]
fn more_than_four_dimensions_are_drawn_from_the_seed() {
    let n = 6;
    let unit: Vec<Vec<f64>> = (0..n).map(|i| (0..n).map(|j| f64::from(u8::from(i == j))).collect()).collect();
    let k = |seed| simultaneous_factor(&unit, &unit, &no_scatter(), 0.95, seed);
    near(k(1), dist::normal_quantile(0.5 + 0.5 * 0.95_f64.powf(1.0 / 6.0)), 5e-3);
    assert_eq!(k(1).to_bits(), k(1).to_bits());
    assert_ne!(k(1).to_bits(), k(2).to_bits());
}
