//! One of two that are compared.

use crate::view::Assessment;
use record::plan::Plan;

/// One of two that are compared.
#[derive(Clone, Copy, Debug)]
pub struct Compared<'a> {
    /// The plan it was judged by.
    pub plan: &'a Plan,
    /// What was found of it.
    pub found: &'a Assessment,
}
