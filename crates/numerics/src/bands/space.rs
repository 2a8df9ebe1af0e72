//! Rows of coefficients as unit vectors in the space of independent errors, and the dimensions they span.

use crate::dot;

/// For each dimension the rows span, one coordinate for each row that has any uncertainty.
pub(super) fn unit_vectors(rows: &[Vec<f64>], covariance: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let root = root(covariance);
    let mut vectors: Vec<Vec<f64>> = Vec::with_capacity(rows.len());
    for row in rows {
        let mut v: Vec<f64> = root.iter().map(|r| dot(r, row)).collect();
        let length = dot(&v, &v).sqrt();
        if length > 0.0 && length.is_finite() {
            v.iter_mut().for_each(|x| *x /= length);
            vectors.push(v);
        }
    }
    compress(vectors)
}

/// Rows r of a matrix R with R' R = `matrix` (symmetric, positive semi-definite), by Cholesky with pivoting; zero
/// rows are left out.
fn root(matrix: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = matrix.len();
    let mut rest: Vec<Vec<f64>> = matrix.to_vec();
    let largest = (0..n).map(|i| matrix[i][i]).fold(0.0, f64::max);
    let mut rows = Vec::with_capacity(n);
    for _ in 0..n {
        let Some(p) = (0..n).max_by(|a, b| rest[*a][*a].total_cmp(&rest[*b][*b])) else {
            break;
        };
        let pivot = rest[p][p];
        if pivot.is_nan() || pivot <= largest * 1e-14 {
            break;
        }
        let row: Vec<f64> = rest[p].iter().map(|x| x / pivot.sqrt()).collect();
        for (i, line) in rest.iter_mut().enumerate() {
            for (x, r) in line.iter_mut().zip(&row) {
                *x -= row[i] * r;
            }
        }
        rows.push(row);
    }
    rows
}

/// Coordinates in the space the vectors span (Gram-Schmidt, the longest remainder first).
fn compress(mut rest: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let full = rest.first().map_or(0, Vec::len);
    let mut axes = Vec::with_capacity(full);
    for _ in 0..full {
        let lengths: Vec<f64> = rest.iter().map(|v| dot(v, v)).collect();
        let Some(p) = (0..rest.len()).max_by(|a, b| lengths[*a].total_cmp(&lengths[*b])) else {
            break;
        };
        if lengths[p] < 1e-12 {
            break;
        }
        let axis: Vec<f64> = rest[p].iter().map(|x| x / lengths[p].sqrt()).collect();
        let mut along = Vec::with_capacity(rest.len());
        for v in &mut rest {
            let share = dot(v, &axis);
            v.iter_mut().zip(&axis).for_each(|(x, a)| *x -= share * a);
            along.push(share);
        }
        axes.push(along);
    }
    axes
}
