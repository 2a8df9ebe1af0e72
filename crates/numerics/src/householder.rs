//! Householder QR of a tall matrix stored by columns, in double-double.

use crate::dd::Dd;

/// A matrix reduced to upper triangular form, with right-hand sides carried along.
pub(crate) struct Reduced {
    /// Column `k` holds rows `0..=k` of R; below them is the Householder vector.
    columns: Vec<Vec<Dd>>,
    /// 2 / |v|^2 of each Householder vector.
    betas: Vec<Dd>,
    /// `order[k]` is the given column at place `k`.
    pub order: Vec<usize>,
}

/// A column is not independent of those before it.
pub(crate) struct Dependent {
    /// The number of independent columns.
    pub rank: usize,
    /// The dependent columns are at positions `rank` and above.
    pub reduced: Reduced,
}

fn norm_square(v: &[Dd]) -> Dd {
    Dd::dot(v, v)
}

/// The order in which columns are reduced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Order {
    /// The caller's order, unchanged.
    Given,
    /// The column with the largest remainder first (pivoting).
    Largest,
}

impl Reduced {
    /// Reduces `columns` (all of the same length, at least as long as the number of columns). A column whose
    /// remainder is below `tolerance` times its length counts as dependent.
    pub fn new(columns: Vec<Vec<Dd>>, order: Order, tolerance: f64) -> Result<Self, Box<Dependent>> {
        let count = columns.len();
        let lengths: Vec<f64> = columns.iter().map(|c| norm_square(c).to_f64()).collect();
        let mut this = Self { columns, betas: Vec::with_capacity(count), order: (0..count).collect() };
        let limit = tolerance * tolerance;
        for k in 0..count {
            let share = |this: &Self, j: usize| -> f64 {
                let left = norm_square(&this.columns[j][k..]).to_f64();
                let all = lengths[this.order[j]];
                if all > 0.0 { left / all } else { 0.0 }
            };
            if order == Order::Largest {
                let mut best = (k, share(&this, k));
                for j in k + 1..count {
                    let s = share(&this, j);
                    if s > best.1 {
                        best = (j, s);
                    }
                }
                this.columns.swap(k, best.0);
                this.order.swap(k, best.0);
            }
            let left = norm_square(&this.columns[k][k..]);
            let all = lengths[this.order[k]];
            if left.to_f64().is_nan() || left.to_f64() <= limit * all {
                let dependent = Dependent { rank: k, reduced: this };
                return Err(Box::new(dependent));
            }
            this.reflect(k, left.sqrt());
        }
        Ok(this)
    }

    fn reflect(&mut self, k: usize, length: Dd) {
        let (head, tail) = self.columns.split_at_mut(k + 1);
        let Some(own) = head.last_mut() else { return };
        let first = own[k];
        let diagonal = if first.to_f64() > 0.0 { -length } else { length };
        let v0 = first - diagonal;
        // |v|^2 = 2 length (length + |first|); beta = 2 / |v|^2; v scaled so that v[k] = 1.
        let beta = (length + first.abs()) / length;
        let inverse = Dd::ONE / v0;
        for x in &mut own[k + 1..] {
            *x = *x * inverse;
        }
        own[k] = diagonal;
        for column in tail {
            apply(&own[k + 1..], beta, &mut column[k..]);
        }
        self.betas.push(beta);
    }

    /// Multiplies `v` (as long as a column) by the transposed orthogonal factor.
    pub fn rotate(&self, v: &mut [Dd]) {
        for (k, beta) in self.betas.iter().enumerate() {
            apply(&self.columns[k][k + 1..], *beta, &mut v[k..]);
        }
    }

    /// The entry of R at row `i`, position `j >= i`.
    pub fn r(&self, i: usize, j: usize) -> Dd {
        self.columns[j][i]
    }

    /// Solves R x = b for the first `size` positions; `b` needs at least that many entries.
    pub fn solve(&self, size: usize, b: &[Dd]) -> Vec<Dd> {
        let mut x = b[..size].to_vec();
        for i in (0..size).rev() {
            let mut sum = x[i];
            for (j, &xj) in x.iter().enumerate().skip(i + 1) {
                sum -= self.r(i, j) * xj;
            }
            x[i] = sum / self.r(i, i);
        }
        x
    }

    /// The inverse of R over the first `size` positions, row by row (zero below the diagonal).
    pub fn inverse(&self, size: usize) -> Vec<Vec<Dd>> {
        let mut rows = vec![vec![Dd::ZERO; size]; size];
        for j in 0..size {
            let diagonal = Dd::ONE / self.r(j, j);
            rows[j][j] = diagonal;
            for i in (0..j).rev() {
                let mut sum = Dd::ZERO;
                for (k, row) in rows.iter().enumerate().take(j + 1).skip(i + 1) {
                    sum += self.r(i, k) * row[j];
                }
                rows[i][j] = -(sum / self.r(i, i));
            }
        }
        rows
    }
}

/// v - beta w (w . v) where w is 1 followed by `rest`.
fn apply(rest: &[Dd], beta: Dd, v: &mut [Dd]) {
    let Some((first, others)) = v.split_first_mut() else {
        return;
    };
    let sum = (*first + Dd::dot(rest, others)) * beta;
    *first -= sum;
    for (x, &w) in others.iter_mut().zip(rest) {
        *x -= sum * w;
    }
}
