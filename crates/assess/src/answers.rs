//! Answers that one assessment is asked for repeatedly: a stage often left what still counts, or what was disturbed
//! later.

use std::cell::RefCell;
use std::collections::VecDeque;

/// Only the newest answers are kept: searching those of a thousand stages would cost more than computing again.
const NEWEST: usize = 16;

/// Answers by question; they depend on nothing else.
#[derive(Debug)]
pub struct Answers<Q, A>(RefCell<VecDeque<(Q, A)>>);

impl<Q, A> Default for Answers<Q, A> {
    fn default() -> Self {
        Self(RefCell::default())
    }
}

impl<Q: PartialEq, A: Clone> Answers<Q, A> {
    /// The answer, computed if this was not asked lately.
    pub fn of(&self, asked: Q, compute: impl FnOnce(&Q) -> A) -> A {
        if let Some((_, answer)) = self.0.borrow().iter().rev().find(|(before, _)| *before == asked) {
            return answer.clone();
        }
        let answer = compute(&asked);
        let mut kept = self.0.borrow_mut();
        if kept.len() == NEWEST {
            kept.pop_front();
        }
        kept.push_back((asked, answer.clone()));
        answer
    }
}
