//! Polynomials in an `x` whose powers are nearly dependent, such as years: fitted about the middle, then converted
//! back.

use super::{Constant, Exact, Fit, LsqError, fit_exactly, powers, to_f64};
use crate::dd::Dd;

/// Fits a polynomial of `order` in `x`, with or without a constant term. If the powers of `x` are dependent within
/// the arithmetic, as with years, the polynomial is fitted in `x` less its middle and its coefficients are converted
/// back; `condition` is then that of the centred powers.
///
/// # Errors
/// As for [`super::fit`]. Columns are counted from the constant term, or from the linear term if there is no
/// constant.
pub fn polynomial_weighted(
    x: &[Dd],
    y: &[Dd],
    order: usize,
    constant: Constant,
    weights: Option<&[f64]>,
) -> Result<Fit, LsqError> {
    let plain = super::fit(&powers(x, order, constant), y, weights);
    if constant == Constant::None || !matches!(plain, Err(LsqError::RankDeficient { .. })) {
        return plain;
    }
    let numbers = || x.iter().map(|x| x.to_f64());
    let (least, most) =
        (numbers().fold(f64::INFINITY, f64::min), numbers().fold(f64::NEG_INFINITY, f64::max));
    let middle = Dd::new(libm::round((least + most) / 2.0));
    let centred: Vec<Dd> = x.iter().map(|&x| x - middle).collect();
    match fit_exactly(&powers(&centred, order, constant), y, weights) {
        Ok(exact) => Ok(turned_back(exact, middle)),
        // Too few different places: report the powers of x itself, which the caller knows.
        Err(_) => plain,
    }
}

/// b_j = sum over k of a_k C(k, j) (-c)^(k - j): converts coefficients about c, and their covariance, to coefficients
/// about zero.
fn turned_back(exact: Exact, middle: Dd) -> Fit {
    let Exact { mut fit, coefficients, unscaled, variance } = exact;
    let count = coefficients.len();
    let mut turn = vec![vec![Dd::ZERO; count]; count];
    for k in 0..count {
        // Row k of Pascal's triangle times powers of -c, from j = k down.
        let mut entry = Dd::ONE;
        for (j, row) in turn.iter_mut().enumerate().take(k + 1).rev() {
            row[k] = entry;
            let step = Dd::new(j as f64) / Dd::new((k - j + 1) as f64);
            entry = entry * step * (Dd::ZERO - middle);
        }
    }
    let half: Vec<Vec<Dd>> =
        turn.iter().map(|row| unscaled.iter().map(|column| Dd::dot(row, column)).collect()).collect();
    let turned: Vec<Vec<Dd>> =
        half.iter().map(|row| turn.iter().map(|other| Dd::dot(row, other)).collect()).collect();
    fit.coefficients = turn.iter().map(|row| Dd::dot(row, &coefficients).to_f64()).collect();
    fit.standard_errors = (0..count).map(|i| (variance * turned[i][i]).sqrt().to_f64()).collect();
    fit.covariance = to_f64(&turned, variance);
    fit.unscaled_covariance = to_f64(&turned, Dd::ONE);
    fit
}
