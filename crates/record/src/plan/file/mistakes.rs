//! Collects the mistakes of a plan while it is read.

use super::error::{PlanError, PlanErrors};
use super::mistake::Mistake;
use std::cell::{Cell, RefCell};
use std::ops::Range;

/// The most mistakes kept; the rest are counted.
const KEPT: usize = 20;

/// Where the text of a plan comes from.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// Somebody is writing it now, and can correct it.
    Written,
    /// A log holds it. A mistake that an earlier program accepted must not lock the log.
    Log,
}

/// The mistakes found so far.
pub struct Mistakes<'t> {
    text: &'t str,
    source: Source,
    remarks: RefCell<Vec<String>>,
    found: RefCell<Vec<(usize, PlanError)>>,
    more: Cell<usize>,
}

impl<'t> Mistakes<'t> {
    /// No mistakes yet, in a text from this source.
    pub fn of(text: &'t str, source: Source) -> Self {
        Self { text, source, remarks: RefCell::default(), found: RefCell::default(), more: Cell::new(0) }
    }

    /// Notes what an earlier program accepted: a mistake in a new plan, a remark on a plan in a log.
    pub fn accepted_once(&self, span: Range<usize>, what: Mistake, right: Option<String>) {
        match self.source {
            Source::Written => self.note(span, what, right),
            Source::Log => {
                let at = PlanError::at(self.text, span, what, None);
                self.remarks.borrow_mut().push(format!("line {}: {}", at.line, at.what));
            }
        }
    }

    /// The remarks on what an earlier program accepted.
    pub fn remarks(&self) -> Vec<String> {
        self.remarks.borrow().clone()
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

    /// Counts a mistake without details.
    pub fn one_more(&self) {
        self.more.set(self.more.get() + 1);
    }

    /// Whether further mistakes are only counted, so that no details are needed.
    pub fn full(&self) -> bool {
        self.found.borrow().len() >= KEPT
    }

    /// Whether there are none.
    pub fn none(&self) -> bool {
        self.found.borrow().is_empty()
    }

    /// All mistakes, in text order.
    pub fn finish(self) -> PlanErrors {
        let mut found = self.found.into_inner();
        found.sort_by_key(|(at, _)| *at);
        PlanErrors::new(found.into_iter().map(|(_, error)| error).collect(), self.more.get())
    }
}
