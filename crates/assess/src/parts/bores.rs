//! The shaft in its bushes.

use super::Values;
use crate::view::BoreLine;
use record::plan::Plan;

/// The best line through the bushes.
pub fn bore_line(_plan: &Plan, _values: &Values) -> Option<BoreLine> {
    None
}
