//! Small second-order cone programmes, solved by the interior-point crate `clarabel`.
//!
//! A programme of a dozen unknowns takes about a tenth of a millisecond. The solver uses only the four operations and
//! square roots, so it gives the same bits everywhere. Scale unknowns and right-hand sides to about one before
//! calling it.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSettings, DefaultSolver, IPSolver, SolverError, SolverStatus, SupportedConeT};
use std::sync::Arc;

/// Why there is no solution.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ConicError {
    /// The constraints contradict each other.
    #[error("the conditions contradict each other")]
    Infeasible,
    /// The cost can fall without limit.
    #[error("nothing limits the answer")]
    Unbounded,
    /// A number is not finite, or an unknown does not exist.
    #[error("a number is not finite, or lists differ in length")]
    BadInput,
    #[error("no answer was found ({0})")]
    Refused(#[source] SolverFault),
    /// The solver gave up; this is its status.
    #[error("no answer was found ({0:?})")]
    Stopped(SolverStatus),
}

/// Why the solver rejects a programme.
#[derive(Clone, Debug, thiserror::Error)]
#[error(transparent)]
pub struct SolverFault(#[from] Arc<SolverError>);

impl PartialEq for SolverFault {
    fn eq(&self, other: &Self) -> bool {
        self.to_string() == other.to_string()
    }
}

impl Eq for SolverFault {}

/// A constant plus a sum of factors times unknowns.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Expression {
    constant: f64,
    terms: Vec<Term>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Term {
    factor: f64,
    unknown: usize,
}

impl From<f64> for Expression {
    fn from(constant: f64) -> Self {
        Self { constant, terms: Vec::new() }
    }
}

impl Expression {
    /// Adds `factor` times an unknown (counted from 0). Add each unknown at most once.
    #[must_use]
    pub fn plus(mut self, factor: f64, unknown: usize) -> Self {
        self.terms.push(Term { factor, unknown });
        self
    }
}

/// Minimises a linear cost under conditions, each a second-order cone.
#[derive(Clone, Debug, Default)]
pub struct Programme {
    cost: Vec<f64>,
    rows: Vec<Expression>,
    /// The size of each second-order cone.
    cones: Vec<usize>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    pub unknowns: Vec<f64>,
    /// One multiplier for each expression, in the order they were added (a cone's head, then its entries).
    pub multipliers: Vec<f64>,
}

impl Programme {
    /// A programme with one unknown for each entry of `cost`.
    pub fn minimise(cost: Vec<f64>) -> Self {
        Self { cost, ..Self::default() }
    }

    /// Requires the length of the vector `entries` to be at most `head`.
    pub fn length_at_most<const N: usize>(&mut self, head: Expression, entries: [Expression; N]) {
        self.rows.push(head);
        self.rows.extend(entries);
        self.cones.push(N + 1);
    }

    /// Solves it.
    ///
    /// # Errors
    /// See [`ConicError`].
    pub fn solve(&self) -> Result<Solution, ConicError> {
        let unknowns = self.cost.len();
        let (mut at_row, mut at_column, mut factors) = (Vec::new(), Vec::new(), Vec::new());
        for (i, row) in self.rows.iter().enumerate() {
            for &Term { factor, unknown } in &row.terms {
                if unknown >= unknowns || !factor.is_finite() {
                    return Err(ConicError::BadInput);
                }
                at_row.push(i);
                at_column.push(unknown);
                factors.push(-factor);
            }
        }
        let constants: Vec<f64> = self.rows.iter().map(|r| r.constant).collect();
        if !constants.iter().chain(&self.cost).all(|v| v.is_finite()) {
            return Err(ConicError::BadInput);
        }
        let matrix = CscMatrix::new_from_triplets(constants.len(), unknowns, at_row, at_column, factors);
        let cones: Vec<_> = self.cones.iter().map(|n| SupportedConeT::SecondOrderConeT(*n)).collect();
        let quadratic = CscMatrix::zeros((unknowns, unknowns));
        let mut solver = DefaultSolver::new(&quadratic, &self.cost, &matrix, &constants, &cones, settings())
            .map_err(|why| ConicError::Refused(Arc::new(why).into()))?;
        solver.solve();
        match solver.solution.status {
            SolverStatus::Solved | SolverStatus::AlmostSolved => {
                Ok(Solution { unknowns: solver.solution.x, multipliers: solver.solution.z })
            }
            SolverStatus::PrimalInfeasible | SolverStatus::AlmostPrimalInfeasible => {
                Err(ConicError::Infeasible)
            }
            SolverStatus::DualInfeasible | SolverStatus::AlmostDualInfeasible => Err(ConicError::Unbounded),
            other => Err(ConicError::Stopped(other)),
        }
    }
}

/// Tighter than the crate's defaults; what it reports as almost solved is still good to eight digits.
fn settings() -> DefaultSettings<f64> {
    DefaultSettings {
        verbose: false,
        tol_gap_abs: 1e-11,
        tol_gap_rel: 1e-11,
        tol_feas: 1e-11,
        reduced_tol_gap_abs: 1e-8,
        reduced_tol_gap_rel: 1e-8,
        reduced_tol_feas: 1e-8,
        ..DefaultSettings::default()
    }
}
