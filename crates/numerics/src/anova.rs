//! Analysis of variance of repeat studies: one-way (one instrument or person against another) and crossed two-way
//! (every person measures every point several times), both with random effects.
//!
//! A negative estimate of a variance component is set to zero and flagged ([`Component::clipped`]).

use crate::dd::Dd;

mod one_way;
mod two_way;

pub use one_way::{OneWay, one_way};
pub use two_way::{TwoWay, two_way};

/// Why the analysis cannot be done.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum AnovaError {
    #[error("a comparison needs at least two groups")]
    TooFewGroups,
    #[error("group {0} (counted from 0) is empty")]
    EmptyGroup(usize),
    /// No repeats: nothing shows the scatter within a group.
    #[error("nothing was measured twice, so the scatter is not known")]
    NoRepeats,
    /// The cell of this part and operator (counted from 0) has a different number of trials from the first.
    #[error(
        "part {part}, operator {operator} (counted from 0) has a different number of trials from the first"
    )]
    Unbalanced { part: usize, operator: usize },
}

/// One line of the analysis table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Source {
    /// Degrees of freedom.
    pub dof: usize,
    pub sum_of_squares: f64,
    pub mean_square: f64,
}

/// A variance component.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Component {
    /// The variance, never negative.
    pub variance: f64,
    /// Whether the estimate was negative and set to zero.
    pub clipped: bool,
}

impl Component {
    fn new(estimate: f64) -> Self {
        Self { variance: estimate.max(0.0), clipped: estimate < 0.0 }
    }

    /// Its standard deviation.
    pub fn sd(self) -> f64 {
        self.variance.sqrt()
    }
}

/// A sum of squares in double-double.
#[derive(Clone, Copy)]
struct Exact {
    dof: usize,
    squares: Dd,
}

impl Exact {
    fn mean(self) -> Dd {
        self.squares / whole(self.dof)
    }

    fn source(self) -> Source {
        Source { dof: self.dof, sum_of_squares: self.squares.to_f64(), mean_square: self.mean().to_f64() }
    }
}

fn whole(count: usize) -> Dd {
    Dd::new(count as f64)
}
