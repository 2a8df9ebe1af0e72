//! The set of moves: the largest ratio as small as it can be, then fewest supports, then shortest moves, in real steps.
//!
//! A ratio is reckoned with what is not known of the influences added ([`Row::at_worst`]): without that, screws of
//! different pitch would be played against each other over many millimetres to win a hundredth on paper.
//!
//! Exact. The linear programme without steps gives the best any amounts could do, t. Real steps that come within a slack
//! of t are then sought among ever larger sets of supports, the shortest first, by branch and bound; where the steps are
//! too coarse for that, the slack is counted from the best that real steps can do.

use super::rows::Row;
use numerics::conic::{ConicError, Expression, Programme};

/// A ratio passes a threshold if it is over it by no more than this.
const ROUNDING: f64 = 1e-9;
/// The solver's answers are good to this; bounds are loosened by it before anything is cut off.
const SOLVER: f64 = 1e-7;
/// Most nodes of one search; far above what a jig with eight screws needs.
const MOST_NODES: usize = 20_000;

/// What is judged and what each support can really do.
#[derive(Clone, Copy, Debug)]
pub struct Task<'a> {
    /// The limits.
    pub rows: &'a [Row],
    /// For each support the amounts in mm it can move by, ascending, zero among them.
    pub amounts: &'a [Vec<f64>],
}

/// Moves found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// mm per support.
    pub moves: Vec<f64>,
    /// Largest ratio after them.
    pub worst: f64,
    /// Largest ratio that the best amounts would leave if steps could be of any size.
    pub without_steps: f64,
}

/// Inclusive range of places in each support's list of amounts.
type Ranges = Vec<(usize, usize)>;

impl Task<'_> {
    /// The largest ratio that must be reckoned with after moves ([`Row::at_worst`]).
    #[must_use]
    pub fn worst(&self, moves: &[f64]) -> f64 {
        self.rows.iter().map(|r| r.at_worst(moves)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// The moves of any size inside the amounts' ends that leave the smallest largest ratio, and that ratio.
    ///
    /// # Errors
    /// See [`ConicError`]; none for rows of finite numbers.
    pub fn without_steps(&self) -> Result<(Vec<f64>, f64), ConicError> {
        let whole: Ranges = self.amounts.iter().map(|a| (0, a.len() - 1)).collect();
        self.least_worst(&whole)
    }

    /// The shortest moves of any size inside the amounts' ends that leave no ratio above the threshold.
    ///
    /// # Errors
    /// [`ConicError::Infeasible`] where no moves do.
    pub fn shortest_of_any_size(&self, threshold: f64) -> Result<Vec<f64>, ConicError> {
        let whole: Ranges = self.amounts.iter().map(|a| (0, a.len() - 1)).collect();
        self.shortest(&whole, threshold)
    }

    /// The moves. `slack` is by how much the largest ratio may be above the best before it counts as worse.
    ///
    /// # Errors
    /// See [`ConicError`]; none for rows of finite numbers.
    pub fn search(&self, slack: f64) -> Result<Found, ConicError> {
        let (_, without_steps) = self.without_steps()?;
        let found = match self.fewest(without_steps + slack)? {
            Some(moves) => moves,
            None => {
                let best = self.best_real()?;
                self.fewest(best.1 + slack)?.unwrap_or(best.0)
            }
        };
        Ok(Found { worst: self.worst(&found), moves: found, without_steps })
    }

    /// The shortest real moves of the fewest supports that leave no ratio above `threshold`.
    fn fewest(&self, threshold: f64) -> Result<Option<Vec<f64>>, ConicError> {
        let still = vec![0.0; self.amounts.len()];
        if self.worst(&still) <= threshold + ROUNDING {
            return Ok(Some(still));
        }
        let movable: Vec<usize> = (0..self.amounts.len()).filter(|i| self.amounts[*i].len() > 1).collect();
        for size in 1..=movable.len() {
            let mut best: Option<(f64, Vec<f64>)> = None;
            for set in subsets(&movable, size) {
                self.shortest_in(&set, threshold, &mut best)?;
            }
            if let Some((_, moves)) = best {
                return Ok(Some(moves));
            }
        }
        Ok(None)
    }

    /// Improves on `best` by moves of these supports alone.
    fn shortest_in(
        &self,
        set: &[usize],
        threshold: f64,
        best: &mut Option<(f64, Vec<f64>)>,
    ) -> Result<(), ConicError> {
        let mut open = vec![self.ranges_of(set)];
        for _ in 0..MOST_NODES {
            let Some(ranges) = open.pop() else { break };
            let free: Vec<usize> = (0..ranges.len()).filter(|i| ranges[*i].0 < ranges[*i].1).collect();
            let moves = match free.as_slice() {
                [] => Some(self.lowest(&ranges)),
                [only] => self.close_shortest(&ranges, *only, threshold),
                _ => {
                    let relaxed = self.shortest(&ranges, threshold);
                    if matches!(relaxed, Err(ConicError::Infeasible)) {
                        continue;
                    }
                    let bound = relaxed.as_ref().map_or(0.0, |m| length(m));
                    if best.as_ref().is_some_and(|(l, _)| bound > l - SOLVER) {
                        continue;
                    }
                    let at = relaxed.unwrap_or_else(|_| self.lowest(&ranges));
                    self.branch(&ranges, &free, &at, &mut open);
                    // A rounded answer is often good enough to cut the rest short.
                    Some(self.rounded(&ranges, &at))
                }
            };
            let Some(moves) = moves else { continue };
            if self.worst(&moves) > threshold + ROUNDING {
                continue;
            }
            let long = length(&moves);
            let better = best.as_ref().is_none_or(|(l, kept)| {
                long < l - ROUNDING
                    || (long < l + ROUNDING && self.worst(&moves) < self.worst(kept) - ROUNDING)
            });
            if better {
                *best = Some((long, moves));
            }
        }
        Ok(())
    }

    /// The real moves that leave the smallest largest ratio, and that ratio.
    fn best_real(&self) -> Result<(Vec<f64>, f64), ConicError> {
        let all: Vec<usize> = (0..self.amounts.len()).collect();
        let mut open = vec![self.ranges_of(&all)];
        let still = vec![0.0; self.amounts.len()];
        let mut best = (still.clone(), self.worst(&still));
        for _ in 0..MOST_NODES {
            let Some(ranges) = open.pop() else { break };
            let free: Vec<usize> = (0..ranges.len()).filter(|i| ranges[*i].0 < ranges[*i].1).collect();
            let moves = match free.as_slice() {
                [] => self.lowest(&ranges),
                [only] => self.close_best(&ranges, *only),
                _ => {
                    let (at, bound) = self.least_worst(&ranges)?;
                    if bound > best.1 - SOLVER {
                        continue;
                    }
                    self.branch(&ranges, &free, &at, &mut open);
                    self.rounded(&ranges, &at)
                }
            };
            let worst = self.worst(&moves);
            if worst < best.1 {
                best = (moves, worst);
            }
        }
        Ok(best)
    }

    /// All amounts of these supports, the others at zero.
    fn ranges_of(&self, set: &[usize]) -> Ranges {
        let zero = |a: &[f64]| a.iter().position(|v| *v == 0.0).unwrap_or(0);
        let of = |(i, a): (usize, &Vec<f64>)| {
            if set.contains(&i) { (0, a.len() - 1) } else { (zero(a), zero(a)) }
        };
        self.amounts.iter().enumerate().map(of).collect()
    }

    fn lowest(&self, ranges: &Ranges) -> Vec<f64> {
        ranges.iter().zip(self.amounts).map(|(r, a)| a[r.0]).collect()
    }

    fn rounded(&self, ranges: &Ranges, at: &[f64]) -> Vec<f64> {
        let near = |((r, a), v): ((&(usize, usize), &Vec<f64>), &f64)| a[nearest(&a[..=r.1], *v).max(r.0)];
        ranges.iter().zip(self.amounts).zip(at).map(near).collect()
    }

    /// Splits at the support whose amount is farthest from a real one; the half nearer to it is looked at first.
    fn branch(&self, ranges: &Ranges, free: &[usize], at: &[f64], open: &mut Vec<Ranges>) {
        let gap = |i: usize| (self.amounts[i][nearest(&self.amounts[i], at[i])] - at[i]).abs();
        let Some(&i) = free.iter().max_by(|a, b| gap(**a).total_cmp(&gap(**b)).then(b.cmp(a))) else {
            return;
        };
        let (low, high) = ranges[i];
        let below = self.amounts[i].partition_point(|a| *a <= at[i]).saturating_sub(1).clamp(low, high - 1);
        let (mut left, mut right) = (ranges.clone(), ranges.clone());
        left[i] = (low, below);
        right[i] = (below + 1, high);
        let left_nearer = at[i] - self.amounts[i][below] <= self.amounts[i][below + 1] - at[i];
        if left_nearer { open.extend([right, left]) } else { open.extend([left, right]) }
    }

    /// With one support free: its shortest amount that leaves no ratio above the threshold.
    fn close_shortest(&self, ranges: &Ranges, only: usize, threshold: f64) -> Option<Vec<f64>> {
        let mut moves = self.lowest(ranges);
        let mut inside: Vec<f64> = self.amounts[only][ranges[only].0..=ranges[only].1].to_vec();
        inside.sort_by(|a, b| a.abs().total_cmp(&b.abs()));
        for amount in inside {
            moves[only] = amount;
            if self.worst(&moves) <= threshold + ROUNDING {
                return Some(moves);
            }
        }
        None
    }

    /// With one support free: its best amount. The largest ratio is convex along it.
    fn close_best(&self, ranges: &Ranges, only: usize) -> Vec<f64> {
        let mut moves = self.lowest(ranges);
        let (mut low, mut high) = ranges[only];
        let at = |i: usize, moves: &mut Vec<f64>| {
            moves[only] = self.amounts[only][i];
            self.worst(moves)
        };
        while low < high {
            let middle = usize::midpoint(low, high);
            if at(middle, &mut moves) <= at(middle + 1, &mut moves) {
                high = middle
            } else {
                low = middle + 1
            }
        }
        at(low, &mut moves);
        moves
    }

    /// The linear programme of the smallest largest ratio inside ranges.
    fn least_worst(&self, ranges: &Ranges) -> Result<(Vec<f64>, f64), ConicError> {
        let relaxed = Relaxed::new(self, ranges);
        let ratio = 2 * relaxed.free.len();
        let mut cost = vec![0.0; ratio + 1];
        cost[ratio] = 1.0;
        let mut programme = Programme::minimise(cost);
        for mut left in self.rows.iter().map(|r| relaxed.minus(r)) {
            left.terms.push((ratio, 1.0));
            programme.at_least_zero(left);
        }
        relaxed.bound(&mut programme);
        let moves = relaxed.whole(&programme.solve()?.unknowns);
        let worst = self.worst(&moves);
        Ok((moves, worst))
    }

    /// The linear programme of the shortest moves inside ranges that leave no ratio above the threshold.
    fn shortest(&self, ranges: &Ranges, threshold: f64) -> Result<Vec<f64>, ConicError> {
        let relaxed = Relaxed::new(self, ranges);
        let count = relaxed.free.len();
        let mut cost = vec![0.0; count];
        cost.extend(vec![1.0; count]);
        let mut programme = Programme::minimise(cost);
        for mut left in self.rows.iter().map(|r| relaxed.minus(r)) {
            left.constant += threshold + SOLVER;
            programme.at_least_zero(left);
        }
        relaxed.bound(&mut programme);
        Ok(relaxed.whole(&programme.solve()?.unknowns))
    }
}

/// Moves of any size inside ranges: the unknowns of a linear programme are the amounts of the supports whose range is
/// open, and behind them the sizes of these amounts.
struct Relaxed {
    free: Vec<usize>,
    ends: Vec<(f64, f64)>,
    /// Moves with the free supports at the low end of their range.
    low: Vec<f64>,
}

impl Relaxed {
    fn new(task: &Task<'_>, ranges: &Ranges) -> Self {
        let free: Vec<usize> = (0..ranges.len()).filter(|i| ranges[*i].0 < ranges[*i].1).collect();
        let ends =
            free.iter().map(|i| (task.amounts[*i][ranges[*i].0], task.amounts[*i][ranges[*i].1])).collect();
        Self { free, ends, low: task.lowest(ranges) }
    }

    /// The ratio to be reckoned with as an expression of the unknowns, negated.
    fn minus(&self, row: &Row) -> Expression {
        let count = self.free.len();
        let mut held = self.low.clone();
        self.free.iter().for_each(|i| held[*i] = 0.0);
        let mut terms = Vec::with_capacity(2 * count + 1);
        for (k, i) in self.free.iter().enumerate() {
            terms.extend((row.per_mm[*i] != 0.0).then(|| (k, -row.per_mm[*i])));
            terms.extend((row.unsure[*i] != 0.0).then(|| (count + k, -row.unsure[*i])));
        }
        Expression { constant: -row.at_worst(&held), terms }
    }

    fn bound(&self, programme: &mut Programme) {
        let count = self.free.len();
        for (k, (low, high)) in self.ends.iter().enumerate() {
            programme.at_least_zero(Expression::new(-low, &[(k, 1.0)]));
            programme.at_least_zero(Expression::new(*high, &[(k, -1.0)]));
            programme.at_least_zero(Expression::new(0.0, &[(count + k, 1.0), (k, 1.0)]));
            programme.at_least_zero(Expression::new(0.0, &[(count + k, 1.0), (k, -1.0)]));
        }
    }

    /// Moves of all supports from the unknowns, held inside the ranges.
    fn whole(&self, unknowns: &[f64]) -> Vec<f64> {
        let mut moves = self.low.clone();
        for ((i, (low, high)), v) in self.free.iter().zip(&self.ends).zip(unknowns) {
            moves[*i] = v.clamp(*low, *high);
        }
        moves
    }
}

fn length(moves: &[f64]) -> f64 {
    moves.iter().map(|m| m.abs()).sum()
}

/// Place of the amount nearest to a value.
fn nearest(amounts: &[f64], value: f64) -> usize {
    let above = amounts.partition_point(|a| *a < value);
    match (above.checked_sub(1), amounts.get(above)) {
        (Some(below), Some(high)) if value - amounts[below] <= high - value => below,
        (Some(below), None) => below,
        _ => above,
    }
}

/// Every set of `size` of the items, in their order.
fn subsets(items: &[usize], size: usize) -> Vec<Vec<usize>> {
    if size == 0 {
        return vec![vec![]];
    }
    let mut out = Vec::new();
    for (i, first) in items.iter().enumerate() {
        for mut rest in subsets(&items[i + 1..], size - 1) {
            rest.insert(0, *first);
            out.push(rest);
        }
    }
    out
}
