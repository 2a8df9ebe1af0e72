//! The advice at a rest, kept while the rest lasts.

use crate::pair::{Known, Pair};
use crate::{Coarse, Log, Turn};
use record::Facing;

#[derive(Clone, Debug)]
pub(crate) struct Advised {
    pub turn: Option<Turn>,
    pub reasons: Vec<String>,
    pub coarse: Option<Coarse>,
}

#[derive(Clone, Debug)]
pub(crate) struct Steady {
    pub pair: Pair,
    pub entries: usize,
    pub facing: Facing,
    pub advised: Advised,
}

impl Steady {
    /// Whether it is the same rest of the same log.
    pub fn holds(&self, facing: Facing, log: &Log<'_>, known: &Known, now: &Pair) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() <= 0.75 * known.step;
        self.entries == log.entries.len()
            && self.facing == facing
            && near(self.pair.main, now.main)
            && self.pair.second.is_some() == now.second.is_some()
            && self.pair.second.zip(now.second).is_none_or(|(a, b)| near(a, b))
    }
}
