//! A test whether what was read of one thing agrees.

use crate::history::Distrust;
use record::Point;

/// What is tested, and what is said of its points where it fails.
pub struct Agreement {
    pub points: Vec<Point>,
    /// The probability that they differ as much by chance.
    pub p: f64,
    pub says: Distrust,
}
