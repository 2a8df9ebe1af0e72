//! Where the search begins: the damped least-squares answer.

use super::super::rows::{Goal, Target};
use crate::advice::belief::Belief;

/// What is judged, and what each support can do.
#[derive(Clone, Copy, Debug)]
pub struct Task<'a> {
    /// The belief about the supports.
    pub belief: &'a Belief,
    /// The limits.
    pub targets: &'a [Target],
    /// For each support of the field, the amounts in mm it can still move by, ascending and including zero; only zero
    /// for one that must stay.
    pub amounts: &'a [Vec<f64>],
    /// How far each was already moved since the targets were measured, in mm.
    pub made: &'a [f64],
}

/// Moves of any size beyond those already made, with (Σ a aᵀ + Q) x = -Σ a now, inside the ends of the amounts.
pub(super) fn damped(task: &Task<'_>, targets: &[&Target]) -> Vec<f64> {
    let Task { belief, amounts, made, .. } = *task;
    let n = amounts.len();
    let (mut matrix, mut right) = (vec![vec![0.0; n]; n], vec![0.0; n]);
    for target in targets.iter().filter(|t| t.goal == Goal::Aim) {
        let covariance = target.covariance(belief);
        for side in &target.sides {
            let square = side.slope * side.slope;
            for (i, row) in matrix.iter_mut().enumerate() {
                let a = &target.way.per_mm;
                right[i] -= side.slope * a[i] * (side.now + side.slope * target.change(made));
                row.iter_mut().enumerate().for_each(|(j, m)| *m += square * (a[i] * a[j] + covariance[i][j]));
            }
        }
    }
    let free: Vec<usize> = (0..n).filter(|i| amounts[*i].len() > 1).collect();
    let solved = solve(&matrix, &right, &free);
    let mut moves = vec![0.0; n];
    for (i, x) in free.iter().zip(solved) {
        moves[*i] = x.clamp(amounts[*i][0], amounts[*i][amounts[*i].len() - 1]);
    }
    moves
}

/// Solves for some of the unknowns by Cholesky; an unknown with a zero pivot stays zero.
fn solve(matrix: &[Vec<f64>], right: &[f64], free: &[usize]) -> Vec<f64> {
    let n = free.len();
    let largest = free.iter().map(|i| matrix[*i][*i]).fold(0.0, f64::max);
    let mut lower = vec![vec![0.0; n]; n];
    let mut y = vec![0.0; n];
    for i in 0..n {
        for j in 0..=i {
            let sum: f64 = (0..j).map(|k| lower[i][k] * lower[j][k]).sum();
            let rest = matrix[free[i]][free[j]] - sum;
            lower[i][j] = match (i == j, lower[j][j] > 0.0) {
                (true, _) if rest > 1e-12 * largest => rest.sqrt(),
                (true, _) => 0.0,
                (false, true) => rest / lower[j][j],
                (false, false) => 0.0,
            };
        }
        let sum: f64 = (0..i).map(|k| lower[i][k] * y[k]).sum();
        y[i] = if lower[i][i] > 0.0 { (right[free[i]] - sum) / lower[i][i] } else { 0.0 };
    }
    let mut x = vec![0.0; n];
    for i in (0..n).rev() {
        let sum: f64 = (i + 1..n).map(|k| lower[k][i] * x[k]).sum();
        x[i] = if lower[i][i] > 0.0 { (y[i] - sum) / lower[i][i] } else { 0.0 };
    }
    x
}
