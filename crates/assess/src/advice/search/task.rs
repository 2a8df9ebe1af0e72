//! What is searched.

use crate::advice::belief::Belief;
use crate::advice::rows::Target;

/// What is judged and what each support can really do.
#[derive(Clone, Copy, Debug)]
pub struct Task<'a> {
    /// What is believed of the supports.
    pub belief: &'a Belief,
    /// The limits.
    pub targets: &'a [Target],
    /// For each support of the field the amounts in mm it can still move by, ascending, zero among them; zero alone for one
    /// that is to stay.
    pub amounts: &'a [Vec<f64>],
    /// What each was moved by already since the targets were measured, in mm.
    pub made: &'a [f64],
}
