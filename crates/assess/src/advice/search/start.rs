//! Where the search begins: the damped least-squares answer.

use super::super::rows::{Goal, Target};
use crate::advice::belief::Belief;
use numerics::cholesky;

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
    let of_free = |row: &Vec<f64>| free.iter().map(|i| row[*i]).collect::<Vec<f64>>();
    let matrix: Vec<Vec<f64>> = free.iter().map(|i| of_free(&matrix[*i])).collect();
    let largest = (0..free.len()).map(|i| matrix[i][i]).fold(0.0, f64::max);
    // An unknown that nothing determines stays zero.
    let solved = cholesky::solve(&cholesky::root(&matrix, |_| 1e-12 * largest), &of_free(&right));
    let mut moves = vec![0.0; n];
    for (i, x) in free.iter().zip(solved) {
        moves[*i] = x.clamp(amounts[*i][0], amounts[*i][amounts[*i].len() - 1]);
    }
    moves
}
