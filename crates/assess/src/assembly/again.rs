//! What is computed again and again in one assessment, and once for the same numbers.

use crate::parts::Computed;
use crate::twist::Fits;

/// What stages share with each other and with the whole.
#[derive(Clone, Copy)]
pub struct Again<'a, 'f> {
    /// The profiles.
    pub fits: &'a Fits<'f>,
    /// Everything else that is computed again.
    pub computed: &'a Computed,
}
