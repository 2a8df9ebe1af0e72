//! The pattern search: one and two supports at a time, in shrinking strides.

use super::super::rows::{Goal, Target};
use super::start::Task;

/// Strides, in steps.
const STRIDES: [usize; 5] = [16, 8, 4, 2, 1];
/// The most improvements in one search.
const MOST: usize = 400;
/// A smaller improvement does not count.
const LEAST: f64 = 1e-9;
/// Weight of the root mean square of the expected ratios beside the largest: a long move must not bring the rest of
/// the wing near its limits for a small gain.
const ALL_ROUND: f64 = 0.2;
/// Cost of a mm of move, in ratio: among equally good moves the shorter ones win.
const PER_MM: f64 = 1e-5;
/// Cost of putting a value outside, per unit of ratio beyond its limit.
const FORBIDDEN: f64 = 1e3;

/// One target, and the effect of the moves on it so far.
#[derive(Clone)]
struct Line<'a> {
    target: &'a Target,
    covariance: &'a Vec<Vec<f64>>,
    /// Change of the value by the moves, in degrees.
    change: f64,
    /// Covariance times the moves.
    along: Vec<f64>,
    /// Variance of the change: the moves in this covariance.
    variance: f64,
}

/// Moves being improved: positions in each support's list of amounts.
#[derive(Clone)]
pub(super) struct Pattern<'a> {
    lines: Vec<Line<'a>>,
    amounts: &'a [Vec<f64>],
    at: Vec<usize>,
    free: Vec<usize>,
    worth: f64,
}

/// A change of one or two supports, in mm.
type Trial = [(usize, f64); 2];

impl<'a> Pattern<'a> {
    pub(super) fn new(task: &Task<'a>, targets: &[&'a Target]) -> Self {
        let Task { belief, amounts, made, .. } = *task;
        let n = amounts.len();
        let line = |t: &&'a Target| Line {
            target: t,
            covariance: t.covariance(belief),
            change: 0.0,
            along: vec![0.0; n],
            variance: 0.0,
        };
        let lines = targets.iter().filter(|t| !t.sides.is_empty()).map(line).collect();
        let at = amounts.iter().map(|a| a.iter().position(|v| *v == 0.0).unwrap_or(0)).collect();
        let free = (0..n).filter(|i| amounts[*i].len() > 1).collect();
        let mut pattern = Self { lines, amounts, at, free, worth: f64::INFINITY };
        for (i, by) in made.iter().enumerate() {
            pattern.shift(i, *by);
        }
        pattern.worth = pattern.value([(0, 0.0), (0, 0.0)], f64::INFINITY);
        pattern
    }

    /// Goes to the real amounts nearest to these, if that is better than staying.
    pub(super) fn begin_at(&mut self, moves: &[f64]) {
        let mut there = self.clone();
        for (i, x) in moves.iter().enumerate() {
            if there.free.contains(&i) {
                there.step_to(i, nearest(&there.amounts[i], *x));
            }
        }
        there.worth = there.value([(0, 0.0), (0, 0.0)], f64::INFINITY);
        if there.cost(there.worth, 0.0) < self.cost(self.worth, 0.0) {
            *self = there;
        }
    }

    /// What the moves leave: the largest ratio to reckon with, and a share of the rest.
    pub(super) fn left(&self) -> f64 {
        self.worth
    }

    /// The largest ratio among what is aimed at, as expected.
    pub(super) fn expected(&self) -> f64 {
        let aimed = self.lines.iter().filter(|l| l.target.goal == Goal::Aim);
        aimed.map(|l| l.target.reckoned(l.change, 0.0)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// What is to be moved beside what was made already.
    pub(super) fn moves(&self) -> Vec<f64> {
        self.at.iter().zip(self.amounts).map(|(k, a)| a[*k]).collect()
    }

    /// Improves until no stride helps.
    pub(super) fn improve(&mut self) {
        self.improve_by(Self::one_and_two);
    }

    /// The best result with one support fewer; `None` if no support moves.
    pub(super) fn without_the_least(&self) -> Option<Self> {
        let used: Vec<usize> = self.free.iter().copied().filter(|i| self.moves()[*i] != 0.0).collect();
        let mut best: Option<Self> = None;
        for i in used {
            let mut fewer = self.clone();
            let zero = fewer.amounts[i].iter().position(|v| *v == 0.0)?;
            fewer.step_to(i, zero);
            fewer.free.retain(|k| *k != i && (self.moves()[*k] != 0.0));
            fewer.worth = fewer.value([(0, 0.0), (0, 0.0)], f64::INFINITY);
            fewer.improve_by(Self::one);
            if best.as_ref().is_none_or(|b| fewer.worth < b.worth - LEAST) {
                best = Some(fewer);
            }
        }
        let mut best = best?;
        best.improve();
        Some(best)
    }

    fn improve_by(&mut self, trials: impl Fn(&Self, usize) -> Vec<Trial>) {
        let mut left = MOST;
        for stride in STRIDES {
            while left > 0 {
                let now = self.cost(self.worth, 0.0);
                let mut best: Option<(f64, f64, Trial)> = None;
                for trial in trials(self, stride) {
                    let longer = self.longer(trial);
                    let most = best.as_ref().map_or(now, |b| b.0) - LEAST;
                    let value = self.value(trial, most - self.cost(0.0, longer));
                    let cost = self.cost(value, longer);
                    if cost < most {
                        best = Some((cost, value, trial));
                    }
                }
                let Some((_, value, trial)) = best else { break };
                for (i, by) in trial.into_iter().filter(|(_, by)| *by != 0.0) {
                    let to = nearest(&self.amounts[i], self.amounts[i][self.at[i]] + by);
                    self.step_to(i, to);
                }
                self.worth = value;
                left -= 1;
            }
        }
    }

    /// One support either way.
    fn one(&self, stride: usize) -> Vec<Trial> {
        self.free.iter().flat_map(|i| self.either_way(*i, stride)).map(|a| [a, (a.0, 0.0)]).collect()
    }

    /// One support, or two at a time.
    fn one_and_two(&self, stride: usize) -> Vec<Trial> {
        let mut out = self.one(stride);
        for (k, i) in self.free.iter().enumerate() {
            for a in self.either_way(*i, stride) {
                for j in &self.free[k + 1..] {
                    out.extend(self.either_way(*j, stride).into_iter().map(|b| [a, b]));
                }
            }
        }
        out
    }

    fn either_way(&self, i: usize, stride: usize) -> Vec<(usize, f64)> {
        let (list, at) = (&self.amounts[i], self.at[i]);
        let to = [at.saturating_sub(stride), (at + stride).min(list.len() - 1)];
        to.into_iter().filter(|k| *k != at).map(|k| (i, list[k] - list[at])).collect()
    }

    /// The objective: what is left, plus a trace for the length of the moves.
    fn cost(&self, left: f64, longer: f64) -> f64 {
        let length: f64 = self.at.iter().zip(self.amounts).map(|(k, a)| a[*k].abs()).sum();
        left + PER_MM * (length + longer)
    }

    fn longer(&self, trial: Trial) -> f64 {
        let of = |(i, by): (usize, f64)| {
            let now = self.amounts[i][self.at[i]];
            (now + by).abs() - now.abs()
        };
        trial.into_iter().filter(|(_, by)| *by != 0.0).map(of).sum()
    }

    /// What would be left after the trial; gives up once it exceeds `most`.
    fn value(&self, trial: Trial, most: f64) -> f64 {
        let [(i, a), (j, b)] = trial;
        let (mut largest, mut square, mut count) = (f64::NEG_INFINITY, 0.0, 0.0);
        for line in &self.lines {
            let (per_mm, q) = (&line.target.way.per_mm, line.covariance);
            let change = line.change + per_mm[i] * a + per_mm[j] * b;
            let variance = line.variance
                + 2.0 * (a * line.along[i] + b * line.along[j])
                + a * a * q[i][i]
                + b * b * q[j][j]
                + 2.0 * a * b * q[i][j];
            if line.target.goal == Goal::Aim {
                largest = largest.max(line.target.reckoned(change, variance.max(0.0).sqrt()));
                let expected = line.target.reckoned(change, 0.0);
                square += expected * expected;
                count += 1.0;
            }
            if !line.target.is_out() {
                let past = line.target.reckoned(change, 0.0) - 1.0;
                if past > 0.0 {
                    largest = largest.max(FORBIDDEN * (1.0 + past));
                }
            }
            if largest > most {
                return largest;
            }
        }
        if count > 0.0 { largest + ALL_ROUND * f64::sqrt(square / count) } else { largest }
    }

    fn step_to(&mut self, i: usize, to: usize) {
        let by = self.amounts[i][to] - self.amounts[i][self.at[i]];
        self.at[i] = to;
        self.shift(i, by);
    }

    fn shift(&mut self, i: usize, by: f64) {
        for line in &mut self.lines {
            line.change += line.target.way.per_mm[i] * by;
            line.variance += 2.0 * by * line.along[i] + by * by * line.covariance[i][i];
            line.along.iter_mut().zip(&line.covariance[i]).for_each(|(v, q)| *v += by * q);
        }
    }
}

/// Position of the amount nearest to a value.
pub(super) fn nearest(amounts: &[f64], value: f64) -> usize {
    let above = amounts.partition_point(|a| *a < value);
    match (above.checked_sub(1), amounts.get(above)) {
        (Some(below), Some(high)) if value - amounts[below] <= high - value => below,
        (Some(below), None) => below,
        _ => above,
    }
}
