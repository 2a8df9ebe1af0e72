//! Searches for the moves: the largest ratio as small as possible, then as few supports as possible, in real steps.
//!
//! One standard uncertainty of the moves' effect is added to each ratio. Without that, screws of different pitch
//! would be played against each other over many millimetres to win a hundredth on paper. The search begins at the
//! damped least-squares answer and continues by one and two supports at a time, in shrinking strides (a pattern
//! search). Its cost is bounded: beyond a few hundred places, a place is added only if it turns out to matter.

mod pattern;
mod start;

use super::learn::evenly;
use super::rows::{Goal, Target};
use pattern::Pattern;
pub use start::Task;
use std::collections::BTreeSet;

/// Up to this many targets are all searched with; beyond that, evenly spread places and the largest.
const ALL: usize = 256;
/// Number of evenly spread targets, and of the largest ones.
const TAKEN: usize = 64;
/// Number of targets added when found moves would violate them, and how often.
const ADDED: usize = 32;
const TIMES: usize = 4;
/// A result worse than the best by up to this share of the tolerance is still good if it saves a support.
const SLACK: f64 = 0.1;

impl Task<'_> {
    /// Values that moves would put outside that are not outside now.
    pub fn put_outside(&self, moves: &[f64]) -> Vec<&str> {
        let bad = |t: &&Target| !t.is_out() && t.after(moves) > 1.0;
        self.targets.iter().filter(bad).map(|t| t.what.as_str()).collect()
    }

    /// The moves, in mm for each support of the field, including what was already made; `None` if there is nothing to
    /// aim at or nothing can move. They put no target outside that is not outside already.
    pub fn search(&self) -> Option<Vec<f64>> {
        let still = self.made.to_vec();
        if !self.targets.iter().any(|t| t.goal == Goal::Aim && !t.sides.is_empty())
            || self.amounts.iter().all(|a| a.len() < 2)
        {
            return None;
        }
        let mut chosen = self.first_choice();
        let mut moves = still.clone();
        for _ in 0..=TIMES {
            moves = self.among(&chosen);
            let more = self.violated(&chosen, &moves);
            if more.is_empty() {
                break;
            }
            chosen.extend(more);
        }
        let better = self.put_outside(&moves).len() <= self.put_outside(&still).len();
        Some(if better { moves } else { still })
    }

    /// The best moves for some of the targets.
    fn among(&self, chosen: &BTreeSet<usize>) -> Vec<f64> {
        let targets: Vec<&Target> = chosen.iter().map(|i| &self.targets[*i]).collect();
        let mut pattern = Pattern::new(self, &targets);
        pattern.begin_at(&start::damped(self, &targets));
        pattern.improve();
        let best = pattern.left();
        // Remove one support at a time while that costs next to nothing.
        while let Some(fewer) = pattern.without_the_least() {
            // Nothing goes outside to save one.
            if fewer.left() > best + SLACK || (fewer.expected() > 1.0 && pattern.expected() <= 1.0) {
                break;
            }
            pattern = fewer;
        }
        self.made.iter().zip(pattern.moves()).map(|(made, more)| made + more).collect()
    }

    fn first_choice(&self) -> BTreeSet<usize> {
        let count = self.targets.len();
        if count <= ALL {
            return (0..count).collect();
        }
        let mut largest: Vec<usize> = (0..count).collect();
        largest.sort_by(|a, b| self.targets[*b].now().total_cmp(&self.targets[*a].now()).then(a.cmp(b)));
        largest.into_iter().take(TAKEN).chain(evenly(count, TAKEN)).collect()
    }

    /// Unchosen targets that the moves would violate: worse than the worst chosen one, or put outside.
    fn violated(&self, chosen: &BTreeSet<usize>, moves: &[f64]) -> Vec<usize> {
        if chosen.len() == self.targets.len() {
            return vec![];
        }
        let spread = self.belief.spread(moves);
        let ratio = |i: &usize| self.targets[*i].at_worst(moves, &spread);
        let aimed = |i: &&usize| self.targets[**i].goal == Goal::Aim;
        let worst = chosen.iter().filter(aimed).map(&ratio).fold(f64::NEG_INFINITY, f64::max);
        let bad = |i: &usize| {
            let t = &self.targets[*i];
            (t.goal == Goal::Aim && ratio(i) > worst + 1e-9) || (!t.is_out() && t.after(moves) > 1.0)
        };
        let mut more: Vec<usize> =
            (0..self.targets.len()).filter(|i| !chosen.contains(i) && bad(i)).collect();
        more.sort_by(|a, b| ratio(b).total_cmp(&ratio(a)).then(a.cmp(b)));
        more.truncate(ADDED);
        more
    }
}
