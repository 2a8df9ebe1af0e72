//! A watch under way, and the spans it gives.

use assess::drift::{DriftWatch, Span};
use quantity::Celsius;
use record::Point;
use std::collections::VecDeque;

#[derive(Clone, Debug)]
pub(crate) struct Watching {
    pub point: Point,
    pub spans: DriftWatch,
    /// Over, and not in the log yet.
    pub over: VecDeque<Span>,
}

/// A span that is over and is to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct NewSpan {
    pub point: Point,
    pub span: Span,
    /// The instrument's own temperature, where it sends one.
    pub temperature: Option<Celsius>,
}

impl Watching {
    /// What came in the span under way is another instrument's.
    pub const fn discard(&mut self) {
        self.spans.discard();
    }

    /// The instrument was set up again: its level is another.
    pub fn set_up_again(&mut self) {
        self.over.extend(self.spans.end());
        self.spans.forget();
    }
}
