//! The few values one frame can carry.

use crate::Sample;
use arrayvec::ArrayVec;

/// The most values of one frame.
pub const MAX_VALUES: usize = 4;

/// The samples of one frame, to be taken from the front.
pub(crate) type Values = ArrayVec<Sample, MAX_VALUES>;
