//! A test of whether readings of one thing agree.

use crate::history::Distrust;
use record::Point;

/// What is tested, and the doubt about its points if the test fails.
pub struct Agreement {
    pub points: Vec<Point>,
    /// The probability that they differ this much by chance.
    pub p: f64,
    pub says: Distrust,
}
