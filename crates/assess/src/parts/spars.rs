//! Straightness of the spars.

use super::Values;
use crate::view::SparView;
use record::plan::Plan;

/// The spars with enough offsets.
pub fn spars(_plan: &Plan, _values: &Values) -> Vec<SparView> {
    Vec::new()
}
