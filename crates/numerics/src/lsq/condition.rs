//! The condition number of a reduced design, from the singular values of R.

use crate::dot;
use crate::householder::Reduced;

/// 2-norm condition number of the first `size` columns of R, each scaled to unit length, by one-sided Jacobi rotations.
pub(super) fn of(reduced: &Reduced, size: usize) -> f64 {
    let mut columns: Vec<Vec<f64>> = (0..size)
        .map(|j| {
            let mut c: Vec<f64> =
                (0..size).map(|i| if i <= j { reduced.r(i, j).to_f64() } else { 0.0 }).collect();
            let length = dot(&c, &c).sqrt();
            c.iter_mut().for_each(|x| *x /= length);
            c
        })
        .collect();
    for _ in 0..30 {
        let mut turned = false;
        for p in 0..size {
            for q in p + 1..size {
                turned |= rotate(&mut columns, p, q);
            }
        }
        if !turned {
            break;
        }
    }
    let (mut least, mut largest) = (f64::INFINITY, 0.0_f64);
    for c in &columns {
        let s = dot(c, c).sqrt();
        least = least.min(s);
        largest = largest.max(s);
    }
    largest / least
}

/// Makes columns `p` and `q` orthogonal; returns false if they already were.
fn rotate(columns: &mut [Vec<f64>], p: usize, q: usize) -> bool {
    let (a, b) = (dot(&columns[p], &columns[p]), dot(&columns[q], &columns[q]));
    let g = dot(&columns[p], &columns[q]);
    if g == 0.0 || g.abs() <= 1e-14 * (a * b).sqrt() {
        return false;
    }
    let zeta = (b - a) / (2.0 * g);
    let t = zeta.signum() / (zeta.abs() + (1.0 + zeta * zeta).sqrt());
    let c = 1.0 / (1.0 + t * t).sqrt();
    let s = c * t;
    let (head, tail) = columns.split_at_mut(q);
    for (x, y) in head[p].iter_mut().zip(&mut tail[0]) {
        (*x, *y) = (c * *x - s * *y, s * *x + c * *y);
    }
    true
}
