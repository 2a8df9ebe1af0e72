//! The problem to search.

use crate::advice::belief::Belief;
use crate::advice::rows::Target;

/// What is judged, and what each support can do.
#[derive(Clone, Copy, Debug)]
pub struct Task<'a> {
    /// The belief about the supports.
    pub belief: &'a Belief,
    /// The limits.
    pub targets: &'a [Target],
    /// For each support of the field, the amounts in mm it can still move by, ascending and including zero; only zero
    /// for one that must stay.
    pub amounts: &'a [Vec<f64>],
    /// How far each was already moved since the targets were measured, in mm.
    pub made: &'a [f64],
}
