//! Proves that no other line leaves more clearance, and gives the sensitivities.
//!
//! For weights l_i >= 0 with sum 1, and vectors g_i no longer than l_i with sum g_i = 0 and sum g_i y_i = 0, every
//! line p with clearance t satisfies t <= sum l_i (room_i - |c_i - p(y_i)|) <= sum l_i room_i - sum g_i (c_i -
//! p(y_i)) = sum l_i room_i - sum g_i c_i.

use super::{Scaled, Sensitivity};

pub(super) struct Certificate {
    /// No line has a larger clearance than this.
    pub bound: f64,
    pub sensitivity: Vec<Sensitivity>,
}

/// From the solver's multipliers (l_i, then the two of -g_i, for each bore), corrected so that every condition above
/// holds to rounding whatever the solver returned.
pub(super) fn of(bores: &[Scaled], multipliers: &[f64]) -> Certificate {
    let part = |k: usize| multipliers.iter().skip(k).step_by(3).copied();
    let mut weights: Vec<f64> = part(0).collect();
    let mut across: [Vec<f64>; 2] = [part(1).map(|m| -m).collect(), part(2).map(|m| -m).collect()];
    for g in &mut across {
        balance(bores, g);
    }
    for (i, w) in weights.iter_mut().enumerate() {
        let length = (across[0][i] * across[0][i] + across[1][i] * across[1][i]).sqrt();
        *w = w.max(length);
    }
    let total: f64 = weights.iter().sum();
    let mut bound = 0.0;
    let mut sensitivity = Vec::with_capacity(bores.len());
    for (i, b) in bores.iter().enumerate() {
        let (w, gx, gz) = (weights[i] / total, across[0][i] / total, across[1][i] / total);
        bound += w * b.room - gx * b.x - gz * b.z;
        sensitivity.push(Sensitivity { x: -gx, z: -gz, diameter: 0.5 * w });
    }
    Certificate { bound, sensitivity }
}

/// Removes the parts of `g` that are constant or linear along y.
fn balance(bores: &[Scaled], g: &mut [f64]) {
    for _ in 0..2 {
        let (mut n, mut sy, mut syy, mut sg, mut sgy) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for (b, g) in bores.iter().zip(g.iter()) {
            n += 1.0;
            sy += b.y;
            syy += b.y * b.y;
            sg += g;
            sgy += g * b.y;
        }
        let determinant = n * syy - sy * sy;
        let slope = (n * sgy - sy * sg) / determinant;
        let level = (sg - slope * sy) / n;
        for (b, g) in bores.iter().zip(g.iter_mut()) {
            *g -= level + slope * b.y;
        }
    }
}
