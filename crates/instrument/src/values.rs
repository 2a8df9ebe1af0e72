//! The few values one frame can carry.

use crate::Sample;

/// The most values of one frame.
pub const MAX_VALUES: usize = 4;

/// Samples of one frame, on their way out one by one.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Values {
    samples: [Option<Sample>; MAX_VALUES],
    next: usize,
}

impl Values {
    pub(crate) const NONE: Self = Self { samples: [None; MAX_VALUES], next: 0 };

    /// Adds one; says whether there was room.
    pub(crate) fn push(&mut self, sample: Sample) -> bool {
        let free = self.samples.iter_mut().find(|slot| slot.is_none());
        free.map(|slot| *slot = Some(sample)).is_some()
    }

    /// Takes the next one out.
    #[inline]
    pub(crate) fn pop(&mut self) -> Option<Sample> {
        let sample = self.samples.get_mut(self.next)?.take();
        self.next = if sample.is_some() { self.next + 1 } else { self.next };
        sample
    }
}
