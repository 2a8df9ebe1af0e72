//! `fit`: least squares of a polynomial or of several columns, in double-double.

use super::table::{Digits, Table, digits};
use crate::exit::Exit;
use crate::refusal::{Refusal, TableFault};
use crate::show::Show;
use clap::Args;
use numerics::lsq::Constant;
use numerics::{Dd, lsq};
use serde::Serialize;
use session::{SessionError, shown};
use std::path::PathBuf;

/// The most coefficients of a fit.
const MOST_TERMS: usize = 64;

#[derive(Debug, Args)]
#[command(
    after_long_help = "The first column is x, the second y, unless --columns names predictors; then --y names y, or the \
    first column that is no predictor is y."
)]
pub struct Fit {
    /// The table (CSV with a header row), or - for standard input
    table: PathBuf,
    /// Order of the polynomial
    #[arg(long, default_value_t = 1)]
    order: usize,
    /// No constant term
    #[arg(long)]
    through_zero: bool,
    /// Predictors by name, in place of powers of x
    #[arg(long, value_delimiter = ',', conflicts_with = "order")]
    columns: Vec<String>,
    /// The column that is fitted
    #[arg(long)]
    y: Option<String>,
    /// The column of standard uncertainties of y, which count as stated
    #[arg(long)]
    weights: Option<String>,
}

#[derive(Serialize)]
struct Answer {
    terms: Vec<String>,
    coefficients: Vec<Digits>,
    standard_errors: Vec<Digits>,
    residual_sd: Digits,
    r_squared: Digits,
    dof: usize,
    rows: usize,
    covariance: Vec<Vec<Digits>>,
    condition: Digits,
    rank: usize,
    /// Sum of (residual / stated uncertainty)^2, to compare with `dof`; present if uncertainties are stated.
    chi_squared: Option<Digits>,
}

impl Fit {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        if self.order >= MOST_TERMS {
            return Err(Refusal::ManyCoefficients.into());
        }
        let table = Table::read(&self.table)?;
        let Design { terms, columns, y } = self.design(&table)?;
        let weights = self.weights.as_ref().map(|name| weights(&table, name)).transpose()?;
        table.remark_unread(show);
        if columns.len() > MOST_TERMS {
            return Err(Refusal::ManyCoefficients.into());
        }
        let fitted = match self.columns.is_empty() {
            // The first power of x is the column of x itself.
            true => {
                let x = table.exact(table.nth(0)?)?;
                lsq::polynomial_weighted(&x, &y, self.order, self.constant(), weights.as_deref())
            }
            false => lsq::fit(&columns, &y, weights.as_deref()),
        };
        let fit = fitted.map_err(|why| match why {
            lsq::LsqError::RankDeficient { involved, .. } => dependent(&involved, &terms).into(),
            other => SessionError::because(other),
        })?;
        // Stated uncertainties are used as stated (ISO/TS 28037, 6.3); without them the residuals give them.
        let stated = weights.is_some();
        let covariance = if stated { &fit.unscaled_covariance } else { &fit.covariance };
        let errors: Vec<f64> = covariance.iter().enumerate().map(|(i, row)| row[i].sqrt()).collect();
        let answer = Answer {
            chi_squared: stated.then_some(Digits(fit.sum_of_squares)),
            coefficients: digits(&fit.coefficients),
            standard_errors: if stated { digits(&errors) } else { digits(&fit.standard_errors) },
            residual_sd: Digits(fit.residual_sd),
            r_squared: Digits(fit.r_squared),
            dof: fit.dof,
            rows: y.len(),
            covariance: covariance.iter().map(|row| digits(row)).collect(),
            condition: Digits(fit.condition),
            rank: fit.coefficients.len(),
            terms,
        };
        show.done(|| text(&answer), &answer)
    }

    const fn constant(&self) -> Constant {
        if self.through_zero { Constant::None } else { Constant::Fitted }
    }

    fn design(&self, table: &Table) -> Result<Design, SessionError> {
        if self.columns.is_empty() {
            let x = table.exact(table.nth(0)?)?;
            let y = match &self.y {
                Some(name) => table.exact(table.text(name)?)?,
                None => table.exact(table.nth(1)?)?,
            };
            let names = (usize::from(self.through_zero)..=self.order).map(|k| match k {
                0 => "1".to_owned(),
                1 => "x".to_owned(),
                k => format!("x^{k}"),
            });
            let columns = lsq::powers(&x, self.order, self.constant());
            return Ok(Design { terms: names.collect(), columns, y });
        }
        let y_name = match &self.y {
            Some(name) => name,
            None => table
                .names()
                .iter()
                .find(|n| !self.columns.contains(n) && self.weights.as_ref() != Some(*n))
                .ok_or(Refusal::NothingFitted)?,
        };
        let y = table.exact(table.text(y_name)?)?;
        let (mut terms, mut columns) = (Vec::new(), Vec::new());
        if !self.through_zero {
            terms.push("1".to_owned());
            columns.push(vec![Dd::ONE; y.len()]);
        }
        for name in &self.columns {
            columns.push(table.exact(table.text(name)?)?);
            terms.push(name.clone());
        }
        Ok(Design { terms, columns, y })
    }
}

/// What is fitted to what.
struct Design {
    terms: Vec<String>,
    /// One column for each term.
    columns: Vec<Vec<Dd>>,
    y: Vec<Dd>,
}

fn weights(table: &Table, name: &str) -> Result<Vec<f64>, SessionError> {
    let u = table.numbers(table.text(name)?)?;
    if let Some(row) = u.iter().position(|u| *u <= 0.0) {
        return Err(table.wrong(TableFault::UncertaintyIn { row: row + 1, column: name.to_owned() }));
    }
    Ok(u.iter().map(|u| 1.0 / (u * u)).collect())
}

/// The arithmetic numbers columns; a person reads their names.
fn dependent(columns: &[usize], terms: &[String]) -> Refusal {
    let terms = columns.iter().filter_map(|c| terms.get(*c));
    Refusal::Dependent(terms.map(|t| format!("`{}`", shown(t))).collect())
}

fn text(a: &Answer) -> String {
    let mut out = vec![format!("{:<16}{:>26}{:>26}", "term", "coefficient", "standard error")];
    for ((term, c), se) in a.terms.iter().zip(&a.coefficients).zip(&a.standard_errors) {
        out.push(format!("{:<16}{:>26.16e}{:>26}", shown(term), c.0, known(*se)));
    }
    out.push(format!(
        "residual standard deviation {}\nR squared {:.16}, degrees of freedom {}, condition {:.3e}",
        known(a.residual_sd),
        a.r_squared.0,
        a.dof,
        a.condition.0
    ));
    if let Some(chi) = &a.chi_squared {
        out.push(format!(
            "standard errors come from the stated uncertainties; chi squared {:.4} on {} degrees of freedom",
            chi.0, a.dof
        ));
    }
    out.join("\n")
}

/// As many coefficients as rows leave nothing to estimate scatter from.
fn known(value: Digits) -> String {
    if value.0.is_finite() { format!("{:.16e}", value.0) } else { "not known".to_owned() }
}
