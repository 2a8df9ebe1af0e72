//! Directions spread over a sphere, and the space that a set of vectors spans.

use super::dot;
use crate::rng::Rng;

const ON_CIRCLE: u32 = 720;
const ON_SPHERE: u32 = 2048;
const DRAWN: u32 = 8192;

/// Directions that stand for all of them, up to sign.
pub(super) fn spread(dimension: usize, rng: &mut Rng) -> Vec<Vec<f64>> {
    match dimension {
        2 => (0..ON_CIRCLE)
            .map(|i| {
                let angle = (f64::from(i) + 0.5) / f64::from(ON_CIRCLE) * core::f64::consts::PI;
                vec![libm::cos(angle), libm::sin(angle)]
            })
            .collect(),
        // Half a sphere in equal steps of height, turned by the golden angle from one to the next.
        3 => (0..ON_SPHERE)
            .map(|i| {
                let z = (f64::from(i) + 0.5) / f64::from(ON_SPHERE);
                let turn = f64::from(i) * 0.618_033_988_749_894_9;
                let angle = (turn - libm::floor(turn)) * core::f64::consts::TAU;
                let radius = (1.0 - z * z).sqrt();
                vec![radius * libm::cos(angle), radius * libm::sin(angle), z]
            })
            .collect(),
        _ => (0..DRAWN)
            .map(|_| {
                let mut v: Vec<f64> = (0..dimension).map(|_| rng.normal()).collect();
                let length = dot(&v, &v).sqrt().max(f64::MIN_POSITIVE);
                v.iter_mut().for_each(|x| *x /= length);
                v
            })
            .collect(),
    }
}

/// Rows r of a matrix R with R' R = `matrix` (symmetric, at least semi-definite): Cholesky with pivoting, rows of
/// nothing left out.
pub(super) fn root(matrix: &[Vec<f64>]) -> Vec<Vec<f64>> {
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

/// The same unit vectors in coordinates of the space they span (Gram-Schmidt, the longest remainder first).
pub(super) fn compress(vectors: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let full = vectors.first().map_or(0, Vec::len);
    let mut rest: Vec<Vec<f64>> = vectors.to_vec();
    let mut coordinates: Vec<Vec<f64>> = vec![Vec::with_capacity(full); vectors.len()];
    for _ in 0..full {
        let lengths: Vec<f64> = rest.iter().map(|v| dot(v, v)).collect();
        let Some(p) = (0..rest.len()).max_by(|a, b| lengths[*a].total_cmp(&lengths[*b])) else {
            break;
        };
        if lengths[p] < 1e-12 {
            break;
        }
        let axis: Vec<f64> = rest[p].iter().map(|x| x / lengths[p].sqrt()).collect();
        for (v, c) in rest.iter_mut().zip(&mut coordinates) {
            let along = dot(v, &axis);
            v.iter_mut().zip(&axis).for_each(|(x, a)| *x -= along * a);
            c.push(along);
        }
    }
    coordinates
}
