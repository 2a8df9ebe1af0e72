//! Tolerance limits, either of which may be absent.

use serde::{Deserialize, Serialize};

/// Lower and upper limit of a value; a one-sided tolerance leaves one of them out.
///
/// At least one is present, and `lower < upper` if both are; the plan's reader checks this.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Limits<Q> {
    /// The smallest value allowed.
    pub lower: Option<Q>,
    /// The largest value allowed.
    pub upper: Option<Q>,
}

impl<Q: Copy + core::ops::Neg<Output = Q>> Limits<Q> {
    /// Limits of equal size on both sides of zero.
    pub fn plus_minus(size: Q) -> Self {
        Self { lower: Some(-size), upper: Some(size) }
    }
}

impl<Q: Into<f64>> Limits<Q> {
    /// The same as plain numbers.
    pub fn values(self) -> Limits<f64> {
        Limits { lower: self.lower.map(Q::into), upper: self.upper.map(Q::into) }
    }
}

impl<Q: Copy> Limits<Q> {
    /// An upper limit alone.
    pub const fn at_most(upper: Q) -> Self {
        Self { lower: None, upper: Some(upper) }
    }

    /// A lower limit alone.
    pub const fn at_least(lower: Q) -> Self {
        Self { lower: Some(lower), upper: None }
    }

    /// The same limits, each turned into another type.
    pub fn map<R>(self, mut f: impl FnMut(Q) -> R) -> Limits<R> {
        Limits { lower: self.lower.map(&mut f), upper: self.upper.map(&mut f) }
    }
}
