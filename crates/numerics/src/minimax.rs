//! Moves that make the largest deviation, each measured against its own tolerance, as small as it can be.
//!
//! A linear programme; the answer is continuous. Rounding to steps a hand can make is the caller's.

use crate::conic::{ConicError, Expression, Programme};

/// What moves can do about deviations: deviation i after moves m is `deviations[i]` - sum over j of `influences[i][j]` m_j.
#[derive(Clone, Copy, Debug)]
pub struct Task<'a> {
    /// Deviations before the moves.
    pub deviations: &'a [f64],
    /// By how much a unit of move j reduces deviation i.
    pub influences: &'a [Vec<f64>],
    /// What each deviation is measured against, above zero.
    pub tolerances: &'a [f64],
    /// Least and greatest of each move; infinite where free.
    pub bounds: &'a [(f64, f64)],
}

/// Moves, and what they leave.
#[derive(Clone, Debug, PartialEq)]
pub struct Moves {
    /// One per bound.
    pub moves: Vec<f64>,
    /// The largest |deviation|/tolerance after them.
    pub largest: f64,
}

impl Task<'_> {
    /// The largest |deviation|/tolerance after these moves.
    pub fn largest(&self, moves: &[f64]) -> f64 {
        let left = self
            .influences
            .iter()
            .zip(self.deviations)
            .map(|(row, d)| d - row.iter().zip(moves).map(|(a, m)| a * m).sum::<f64>());
        left.zip(self.tolerances).map(|(r, t)| (r / t).abs()).fold(0.0, f64::max)
    }

    /// The moves with the smallest [`Task::largest`].
    ///
    /// # Errors
    /// [`ConicError::Infeasible`] where a bound is upside down, `Unbounded` never, `BadInput` for lists that do not fit.
    pub fn smallest(&self) -> Result<Moves, ConicError> {
        let count = self.check()?;
        let mut cost = vec![0.0; count + 1];
        cost[count] = 1.0;
        let mut programme = Programme::minimise(cost);
        for side in [1.0, -1.0] {
            self.each_row(side, |mut row| {
                row.terms.push((count, 1.0));
                programme.at_least_zero(row);
            });
        }
        self.bound(&mut programme);
        Ok(self.finished(programme.solve()?.unknowns))
    }

    /// The moves of least sum of |move| times its `price` (one per bound, not negative) that keep
    /// [`Task::largest`] within `allowed`.
    ///
    /// # Errors
    /// [`ConicError::Infeasible`] where no moves do.
    pub fn shortest(&self, allowed: f64, prices: &[f64]) -> Result<Moves, ConicError> {
        let count = self.check()?;
        if prices.len() != count {
            return Err(ConicError::BadInput);
        }
        let mut cost = vec![0.0; count];
        cost.extend(prices);
        let mut programme = Programme::minimise(cost);
        for side in [1.0, -1.0] {
            self.each_row(side, |mut row| {
                row.constant += allowed;
                programme.at_least_zero(row);
            });
        }
        for j in 0..count {
            programme.at_least_zero(Expression::new(0.0, &[(count + j, 1.0), (j, 1.0)]));
            programme.at_least_zero(Expression::new(0.0, &[(count + j, 1.0), (j, -1.0)]));
        }
        self.bound(&mut programme);
        Ok(self.finished(programme.solve()?.unknowns))
    }

    fn check(&self) -> Result<usize, ConicError> {
        let (points, moves) = (self.deviations.len(), self.bounds.len());
        let fits = self.influences.len() == points
            && self.tolerances.len() == points
            && self.influences.iter().all(|r| r.len() == moves)
            && self.tolerances.iter().all(|t| *t > 0.0 && t.is_finite());
        let bounded = self.bounds.iter().all(|(l, h)| !l.is_nan() && !h.is_nan());
        match (fits && bounded && points > 0, self.bounds.iter().all(|(l, h)| l <= h)) {
            (false, _) => Err(ConicError::BadInput),
            (true, false) => Err(ConicError::Infeasible),
            (true, true) => Ok(moves),
        }
    }

    /// side (deviation - influences m) / tolerance for every point.
    fn each_row(&self, side: f64, mut take: impl FnMut(Expression)) {
        for ((d, row), t) in self.deviations.iter().zip(self.influences).zip(self.tolerances) {
            let terms = row.iter().enumerate().filter(|(_, a)| **a != 0.0);
            let terms = terms.map(|(j, a)| (j, -side * a / t)).collect();
            take(Expression { constant: side * d / t, terms });
        }
    }

    fn bound(&self, programme: &mut Programme) {
        for (j, &(least, greatest)) in self.bounds.iter().enumerate() {
            if least.is_finite() {
                programme.at_least_zero(Expression::new(-least, &[(j, 1.0)]));
            }
            if greatest.is_finite() {
                programme.at_least_zero(Expression::new(greatest, &[(j, -1.0)]));
            }
        }
    }

    /// The solver may end slightly outside a bound; the moves may not.
    fn finished(&self, mut moves: Vec<f64>) -> Moves {
        moves.truncate(self.bounds.len());
        for (m, &(least, greatest)) in moves.iter_mut().zip(self.bounds) {
            *m = m.clamp(least, greatest);
        }
        Moves { largest: self.largest(&moves), moves }
    }
}
