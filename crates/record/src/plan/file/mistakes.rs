//! Where the mistakes of a plan are collected while it is read.

use super::error::{PlanError, PlanErrors};
use super::mistake::Mistake;
use std::cell::{Cell, RefCell};
use std::ops::Range;

/// The most mistakes kept; further ones are counted.
const KEPT: usize = 20;

/// Where the text of a plan comes from.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// Somebody wrote it now, and can mend it.
    Written,
    /// A log holds it: what an earlier program let be must not shut the log.
    Log,
}

/// The mistakes found so far.
pub struct Mistakes<'t> {
    text: &'t str,
    source: Source,
    unused: RefCell<Vec<String>>,
    found: RefCell<Vec<(usize, PlanError)>>,
    more: Cell<usize>,
}

impl<'t> Mistakes<'t> {
    /// None yet.
    pub fn in_text(text: &'t str) -> Self {
        Self::of(text, Source::Written)
    }

    /// None yet, in a text from there.
    pub fn of(text: &'t str, source: Source) -> Self {
        Self { text, source, unused: RefCell::default(), found: RefCell::default(), more: Cell::new(0) }
    }

    /// Notes a key without effect: a mistake in a new plan, a remark on one that a log holds.
    pub fn unused(&self, span: Range<usize>, what: Mistake) {
        match self.source {
            Source::Written => self.note(span, what, None),
            Source::Log => {
                let at = PlanError::at(self.text, span, what, None);
                self.unused.borrow_mut().push(format!("line {}: {}", at.line, at.what));
            }
        }
    }

    /// The remarks on keys without effect.
    pub fn said_of_unused(&self) -> Vec<String> {
        self.unused.borrow().clone()
    }

    /// The plan's text.
    pub const fn text(&self) -> &'t str {
        self.text
    }

    /// Notes a mistake.
    pub fn note(&self, span: Range<usize>, what: Mistake, right: Option<String>) {
        if self.full() {
            return self.one_more();
        }
        let at = span.start;
        self.found.borrow_mut().push((at, PlanError::at(self.text, span, what, right)));
    }

    /// Counts a mistake without looking at it.
    pub fn one_more(&self) {
        self.more.set(self.more.get() + 1);
    }

    /// True once further mistakes are only counted, so that nothing need be found out about them.
    pub fn full(&self) -> bool {
        self.found.borrow().len() >= KEPT
    }

    /// True if there are none.
    pub fn none(&self) -> bool {
        self.found.borrow().is_empty()
    }

    /// All of them in the order of the text.
    pub fn finish(self) -> PlanErrors {
        let mut found = self.found.into_inner();
        found.sort_by_key(|(at, _)| *at);
        PlanErrors::new(found.into_iter().map(|(_, error)| error).collect(), self.more.get())
    }
}
