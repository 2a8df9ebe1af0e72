//! Results that one assessment needs repeatedly and computes once for the same numbers.

use crate::parts::Computed;
use crate::twist::Fits;

/// What the stages and the whole share.
#[derive(Clone, Copy)]
pub struct Again<'a, 'f> {
    /// The profiles.
    pub fits: &'a Fits<'f>,
    /// Everything else that is computed repeatedly.
    pub computed: &'a Computed,
}
