//! Least squares for any columns, weighted or not, by Householder QR with column pivoting in double-double.
//!
//! The normal equations are never formed. On the eleven linear sets of the NIST Statistical Reference Datasets, the
//! worst coefficient and the worst standard error are right to at least 13 digits.

use crate::dd::Dd;
use crate::householder::{Dependent, Order, Reduced};

mod centred;
mod condition;

pub use centred::polynomial_weighted;

/// A column whose remainder is below this share of it counts as zero: only ten of the 32 digits would be left.
const DEPENDENCE: f64 = 1e-22;

/// Why there is no fit.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum LsqError {
    /// No columns, or no rows.
    #[error("there is nothing to fit")]
    Empty,
    /// A column, or the weights, has another number of rows than `y`.
    #[error("columns differ in length: {expected} rows and {found} rows")]
    Lengths {
        /// Rows of `y`.
        expected: usize,
        /// Rows found.
        found: usize,
    },
    /// Fewer rows than coefficients.
    #[error("{rows} rows cannot determine {coefficients} coefficients")]
    TooFewRows {
        /// Rows given.
        rows: usize,
        /// Coefficients asked for.
        coefficients: usize,
    },
    /// Columns depend on each other, so the coefficients are not determined.
    #[error(
        "the coefficients are not determined: columns {involved:?} (counted from 0) depend on each other"
    )]
    RankDeficient {
        /// How many columns are independent.
        rank: usize,
        /// The columns (counted from 0) that add nothing to the others.
        dependent: Vec<usize>,
        /// All columns in a dependence, including the dependent ones.
        involved: Vec<usize>,
    },
    /// The weight in this row (counted from 0) is not finite or not above zero.
    #[error("the weight in row {0} (counted from 0) is not above zero")]
    BadWeight(usize),
    /// A number is not finite, or the numbers are so large or small that the arithmetic overflowed.
    #[error("a number is not finite or far out of range")]
    NotFinite,
}

/// A least-squares fit. Vectors of coefficients are in the order of the columns given.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    pub coefficients: Vec<f64>,
    /// Standard errors, from the residual standard deviation.
    pub standard_errors: Vec<f64>,
    /// y less the fitted value for each row (not weighted).
    pub residuals: Vec<f64>,
    /// sqrt(sum w r^2 / dof). If `dof` is 0 it is NaN, and so are standard errors and covariance.
    pub residual_sd: f64,
    /// 1 - sum w r^2 / sum w (y - mean)^2; about zero instead of the mean if no column is constant.
    pub r_squared: f64,
    /// Rows less coefficients.
    pub dof: usize,
    /// Covariance of the coefficients, scaled by `residual_sd`^2.
    pub covariance: Vec<Vec<f64>>,
    /// Covariance if a row of weight 1 has unit variance: (X' W X)^-1.
    pub unscaled_covariance: Vec<Vec<f64>>,
    /// sum w r^2.
    pub sum_of_squares: f64,
    /// 2-norm condition number of the design with its columns scaled to unit length.
    pub condition: f64,
}

/// Fits `y` by a linear combination of `columns` (one for each coefficient, each as long as `y`). Minimises the sum
/// of w r^2 if `weights` are given (w = 1/u^2 for a standard uncertainty u), else of r^2.
///
/// # Errors
/// See [`LsqError`].
pub fn fit(columns: &[Vec<Dd>], y: &[Dd], weights: Option<&[f64]>) -> Result<Fit, LsqError> {
    fit_exactly(columns, y, weights).map(|exact| exact.fit)
}

/// A fit with the numbers behind it in full precision.
struct Exact {
    fit: Fit,
    coefficients: Vec<Dd>,
    unscaled: Vec<Vec<Dd>>,
    variance: Dd,
}

fn fit_exactly(columns: &[Vec<Dd>], y: &[Dd], weights: Option<&[f64]>) -> Result<Exact, LsqError> {
    check(columns, y, weights)?;
    let roots: Option<Vec<Dd>> = weights.map(|w| w.iter().map(|w| Dd::new(*w).sqrt()).collect());
    let weighted = |v: &[Dd]| -> Vec<Dd> {
        match &roots {
            Some(roots) => v.iter().zip(roots).map(|(&x, &w)| x * w).collect(),
            None => v.to_vec(),
        }
    };
    let (count, dof) = (columns.len(), y.len() - columns.len());
    let scales: Vec<f64> = columns.iter().map(|c| power_of_two_near(c)).collect();
    let scaled = columns.iter().zip(&scales).map(|(c, &s)| {
        let mut c = weighted(c);
        c.iter_mut().for_each(|x| *x = x.scaled_by_power_of_two(s));
        c
    });
    let reduced = Reduced::new(scaled.collect(), Order::Largest, DEPENDENCE).map_err(|d| deficient(&d))?;

    let mut rotated = weighted(y);
    reduced.rotate(&mut rotated);
    let solution = reduced.solve(count, &rotated);
    let inverse = reduced.inverse(count);
    let mut coefficients = vec![Dd::ZERO; count];
    let mut unscaled = vec![vec![Dd::ZERO; count]; count];
    for (i, &ci) in reduced.order.iter().enumerate() {
        coefficients[ci] = solution[i].scaled_by_power_of_two(scales[ci]);
        for (j, &cj) in reduced.order.iter().enumerate() {
            let from = i.max(j);
            let inner = Dd::dot(&inverse[i][from..], &inverse[j][from..]);
            unscaled[ci][cj] = inner.scaled_by_power_of_two(scales[ci]).scaled_by_power_of_two(scales[cj]);
        }
    }
    let mut residuals = y.to_vec();
    for (column, &b) in columns.iter().zip(&coefficients) {
        for (r, &x) in residuals.iter_mut().zip(column) {
            *r -= x * b;
        }
    }
    let rss = square_sum(&residuals, weights);
    let total = total_sum_of_squares(columns, y, weights);
    let ratio = if total.to_f64() > 0.0 { rss / total } else { Dd::ZERO };
    let variance = if dof > 0 { rss / Dd::new(dof as f64) } else { Dd::new(f64::NAN) };
    let result = Fit {
        coefficients: coefficients.iter().map(|b| b.to_f64()).collect(),
        standard_errors: (0..count).map(|i| (variance * unscaled[i][i]).sqrt().to_f64()).collect(),
        residuals: residuals.iter().map(|r| r.to_f64()).collect(),
        residual_sd: variance.sqrt().to_f64(),
        r_squared: (Dd::ONE - ratio).to_f64(),
        dof,
        covariance: to_f64(&unscaled, variance),
        unscaled_covariance: to_f64(&unscaled, Dd::ONE),
        sum_of_squares: rss.to_f64(),
        condition: condition::of(&reduced, count),
    };
    if coefficients.iter().all(|b| b.is_finite()) && rss.is_finite() {
        Ok(Exact { fit: result, coefficients, unscaled, variance })
    } else {
        Err(LsqError::NotFinite)
    }
}

/// Whether a fit has a constant term.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Constant {
    /// A constant is fitted.
    Fitted,
    /// No constant: the fit passes through zero.
    None,
}

/// The powers of `x` as columns: 0 to `order`, or 1 to `order` without a constant.
pub fn powers(x: &[Dd], order: usize, constant: Constant) -> Vec<Vec<Dd>> {
    let mut columns = Vec::with_capacity(order + 1);
    let mut power = vec![Dd::ONE; x.len()];
    for k in 0..=order {
        if k > 0 {
            power.iter_mut().zip(x).for_each(|(p, &x)| *p = *p * x);
        }
        if k > 0 || constant == Constant::Fitted {
            columns.push(power.clone());
        }
    }
    columns
}

fn check(columns: &[Vec<Dd>], y: &[Dd], weights: Option<&[f64]>) -> Result<(), LsqError> {
    if columns.is_empty() || y.is_empty() {
        return Err(LsqError::Empty);
    }
    let lengths = columns.iter().map(Vec::len).chain(weights.map(<[f64]>::len));
    if let Some(found) = lengths.into_iter().find(|n| *n != y.len()) {
        return Err(LsqError::Lengths { expected: y.len(), found });
    }
    if y.len() < columns.len() {
        return Err(LsqError::TooFewRows { rows: y.len(), coefficients: columns.len() });
    }
    if let Some(row) = weights.and_then(|w| w.iter().position(|w| !(*w > 0.0 && w.is_finite()))) {
        return Err(LsqError::BadWeight(row));
    }
    let finite = |v: &[Dd]| v.iter().all(|x| x.is_finite());
    if finite(y) && columns.iter().all(|c| finite(c)) { Ok(()) } else { Err(LsqError::NotFinite) }
}

/// A power of two that brings the largest entry near one.
fn power_of_two_near(column: &[Dd]) -> f64 {
    let largest = column.iter().map(|x| x.to_f64().abs()).fold(0.0, f64::max);
    if largest == 0.0 {
        return 1.0;
    }
    libm::ldexp(1.0, (-libm::ilogb(largest)).clamp(-1000, 1000))
}

fn square_sum(v: &[Dd], weights: Option<&[f64]>) -> Dd {
    match weights {
        Some(w) => v.iter().zip(w).map(|(r, w)| r.square() * *w).sum(),
        None => v.iter().map(|r| r.square()).sum(),
    }
}

fn total_sum_of_squares(columns: &[Vec<Dd>], y: &[Dd], weights: Option<&[f64]>) -> Dd {
    let constant = |c: &Vec<Dd>| c[0] != Dd::ZERO && c.iter().all(|x| *x == c[0]);
    if !columns.iter().any(constant) {
        return square_sum(y, weights);
    }
    let (mut sum, mut weight) = (Dd::ZERO, Dd::ZERO);
    for (i, &v) in y.iter().enumerate() {
        let w = weights.map_or(1.0, |w| w[i]);
        sum += v * w;
        weight += Dd::new(w);
    }
    let mean = sum / weight;
    let about: Vec<Dd> = y.iter().map(|&v| v - mean).collect();
    square_sum(&about, weights)
}

fn to_f64(matrix: &[Vec<Dd>], factor: Dd) -> Vec<Vec<f64>> {
    matrix.iter().map(|row| row.iter().map(|&x| (x * factor).to_f64()).collect()).collect()
}

/// Finds the dependent columns and those they depend on: the independent ones with a coefficient that matters.
fn deficient(found: &Dependent) -> LsqError {
    let (rank, reduced) = (found.rank, &found.reduced);
    let mut dependent = reduced.order[rank..].to_vec();
    let mut involved = dependent.clone();
    for place in rank..reduced.order.len() {
        let shadow: Vec<Dd> = (0..rank).map(|i| reduced.r(i, place)).collect();
        for (i, share) in reduced.solve(rank, &shadow).iter().enumerate() {
            if share.to_f64().abs() > 1e-9 {
                involved.push(reduced.order[i]);
            }
        }
    }
    dependent.sort_unstable();
    involved.sort_unstable();
    involved.dedup();
    LsqError::RankDeficient { rank, dependent, involved }
}
