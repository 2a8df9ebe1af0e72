//! What one assessment computes with the same numbers again: a stage often left what still counts.

use numerics::bores::{Bore, BoresError, ShaftLine};
use std::cell::RefCell;

/// What was computed so far.
#[derive(Debug, Default)]
pub struct Computed {
    /// Shafts through bores, by the bores and the shaft's diameter.
    pub(super) shafts: Answers<(Vec<Bore>, f64), Result<ShaftLine, BoresError>>,
    /// Standard deviations by redrawing.
    pub(super) redrawn: Answers<Redrawn, f64>,
}

/// Values that were drawn again.
#[derive(Debug, PartialEq)]
pub(super) struct Redrawn {
    pub seed: u64,
    pub values: Vec<f64>,
    pub own: Vec<f64>,
    /// What was found of them.
    pub found: f64,
}

/// Answers by what was asked; they follow from nothing else.
#[derive(Debug)]
pub(super) struct Answers<Q, A>(RefCell<Vec<(Q, A)>>);

impl<Q, A> Default for Answers<Q, A> {
    fn default() -> Self {
        Self(RefCell::default())
    }
}

impl<Q: PartialEq, A: Clone> Answers<Q, A> {
    /// The answer, computed where this was not asked before.
    pub fn of(&self, asked: Q, compute: impl FnOnce(&Q) -> A) -> A {
        if let Some((_, answer)) = self.0.borrow().iter().find(|(before, _)| *before == asked) {
            return answer.clone();
        }
        let answer = compute(&asked);
        self.0.borrow_mut().push((asked, answer.clone()));
        answer
    }
}
