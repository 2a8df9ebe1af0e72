//! The few values one frame can carry.

use crate::Sample;
use arrayvec::ArrayVec;

/// The most values of one frame.
pub const MAX_VALUES: usize = 4;

/// Samples of one frame; they are taken out from the front.
pub(crate) type Values = ArrayVec<Sample, MAX_VALUES>;
