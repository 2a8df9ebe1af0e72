//! A watch in progress, and the spans it gives.

use assess::drift::{DriftWatch, Span};
use quantity::Celsius;
use record::Point;
use std::collections::VecDeque;

#[derive(Clone, Debug)]
pub(crate) struct Watching {
    pub point: Point,
    pub spans: DriftWatch,
    /// Finished, and not in the log yet.
    pub over: VecDeque<Span>,
}

/// A finished span to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct NewSpan {
    pub point: Point,
    pub span: Span,
    /// The instrument's own temperature, if it sends one.
    pub temperature: Option<Celsius>,
}

impl Watching {
    /// The values in the present span came from another instrument.
    pub const fn discard(&mut self) {
        self.spans.discard();
    }

    /// The instrument was set up again: its level is different.
    pub fn set_up_again(&mut self) {
        self.over.extend(self.spans.end());
        self.spans.forget();
    }
}
