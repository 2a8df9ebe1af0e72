//! What a point should show: the seam to the judgement of it.

use crate::{Log, Target};

/// What is expected of a value, and why this one is asked about.
#[derive(Clone, Debug, PartialEq)]
pub struct Unlike {
    /// About what should be shown, in the unit used inside.
    pub expected: f64,
    /// Why it is asked, in words.
    pub why: String,
}

/// Whether a value about to be taken has to be asked about; nothing where nobody knows what to expect.
#[must_use]
pub fn unlike(_log: &Log<'_>, _target: &Target, _value: f64) -> Option<Unlike> {
    // Nothing is known of what a point should show yet: do not ask.
    None
}
