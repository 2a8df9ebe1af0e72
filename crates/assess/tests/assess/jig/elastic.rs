//! Another model of a wing: two tapered beams on springs, tied together by torsion, by finite differences.
//!
//! The figures are assumed, with no source: the stiffness of the beams and of the torsion relative to the springs,
//! drawn anew for every jig.

use numerics::rng::Rng;
use record::plan::Plan;

/// Bays along the span.
const BAYS: usize = 24;

/// Influence of 1 mm at the foot of each support's spring on the incidence at each station, in degrees.
pub fn influences(plan: &Plan, rng: &mut Rng) -> Vec<Vec<f64>> {
    let nodes = BAYS + 1;
    let (root, tip) = (plan.wing.root.value(), plan.wing.tip.value());
    let length = tip - root;
    let bay = length / BAYS as f64;
    let spring = 1.0;
    let logarithmic = |rng: &mut Rng, (a, b): (f64, f64)| a * (b / a).powf(rng.uniform());
    let bending: Vec<f64> =
        (0..2).map(|_| logarithmic(rng, (0.1, 0.6)) * spring * length.powi(3) / 3.0).collect();
    let torsion = logarithmic(rng, (0.03, 0.2)) * spring * length;
    let taper = 0.3 + 0.5 * rng.uniform();
    let thick = |node: f64| 1.0 - (1.0 - taper) * node / BAYS as f64;
    let mut stiffness = vec![vec![0.0; 2 * nodes]; 2 * nodes];
    let mut add = |terms: &[(usize, f64)], k: f64| {
        for (i, a) in terms {
            for (j, b) in terms {
                stiffness[*i][*j] += k * a * b;
            }
        }
    };
    for (beam, ei) in bending.iter().enumerate() {
        let at = |n: usize| beam * nodes + n;
        for n in 1..BAYS {
            add(
                &[(at(n - 1), 1.0), (at(n), -2.0), (at(n + 1), 1.0)],
                ei * thick(n as f64).powi(3) / bay.powi(3),
            );
        }
    }
    let apart = |n: usize| {
        let eta = n as f64 / BAYS as f64;
        let aft =
            |k: usize| plan.spars[k].aft_root.value() * (1.0 - eta) + plan.spars[k].aft_tip.value() * eta;
        aft(1) - aft(0)
    };
    let wide = apart(BAYS / 2);
    for n in 0..BAYS {
        let (a, b) = (wide / apart(n), wide / apart(n + 1));
        let twist = [(n, -a), (nodes + n, a), (n + 1, b), (nodes + n + 1, -b)];
        add(&twist, torsion * thick(n as f64 + 0.5).powi(3) / bay / 4.0);
    }
    let mut loads = Vec::new();
    for support in &plan.supports {
        let beam = usize::from(support.spar == plan.spars[1].name);
        let place = ((support.span.value() - root) / bay).clamp(0.0, BAYS as f64 - 1e-9);
        let (n, part) = (place as usize, place.fract());
        let terms = [(beam * nodes + n, 1.0 - part), (beam * nodes + n + 1, part)];
        add(&terms, spring);
        let mut load = vec![0.0; 2 * nodes];
        terms.iter().for_each(|(i, a)| load[*i] += spring * a);
        loads.push(load);
    }
    let shapes = solve(stiffness, loads);
    plan.stations
        .iter()
        .map(|s| {
            let place = ((s.span.value() - root) / bay).clamp(0.0, BAYS as f64 - 1e-9);
            let (n, part) = (place as usize, place.fract());
            let at =
                |z: &[f64], beam: usize| z[beam * nodes + n] * (1.0 - part) + z[beam * nodes + n + 1] * part;
            let between = apart(n) * (1.0 - part) + apart(n + 1) * part;
            shapes.iter().map(|z| ((at(z, 0) - at(z, 1)) / between).to_degrees()).collect()
        })
        .collect()
}

/// Gaussian elimination with the largest pivot, for several right-hand sides.
fn solve(mut matrix: Vec<Vec<f64>>, mut right: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let n = matrix.len();
    for k in 0..n {
        let p = (k..n).max_by(|a, b| matrix[*a][k].abs().total_cmp(&matrix[*b][k].abs())).unwrap_or(k);
        matrix.swap(k, p);
        right.iter_mut().for_each(|r| r.swap(k, p));
        for i in k + 1..n {
            let factor = matrix[i][k] / matrix[k][k];
            if factor != 0.0 {
                let (upper, lower) = matrix.split_at_mut(i);
                lower[0].iter_mut().zip(&upper[k]).skip(k).for_each(|(a, b)| *a -= factor * b);
                right.iter_mut().for_each(|r| r[i] -= factor * r[k]);
            }
        }
    }
    right
        .into_iter()
        .map(|mut x| {
            for i in (0..n).rev() {
                let sum: f64 = (i + 1..n).map(|j| matrix[i][j] * x[j]).sum();
                x[i] = (x[i] - sum) / matrix[i][i];
            }
            x
        })
        .collect()
}
