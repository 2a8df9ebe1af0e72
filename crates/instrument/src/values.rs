//! The few values one frame can carry.

use crate::Sample;

/// The most values of one frame.
pub const MAX_VALUES: usize = 4;

/// Samples of one frame, on their way out one by one.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Values {
    samples: [Option<Sample>; MAX_VALUES],
    filled: usize,
    next: usize,
}

impl Values {
    pub(crate) const NONE: Self = Self { samples: [None; MAX_VALUES], filled: 0, next: 0 };

    /// Forgets all of them.
    #[inline]
    pub(crate) const fn clear(&mut self) {
        self.filled = 0;
        self.next = 0;
    }

    /// Adds one; says whether there was room.
    #[inline]
    pub(crate) fn push(&mut self, sample: Sample) -> bool {
        let Some(free) = self.samples.get_mut(self.filled) else { return false };
        *free = Some(sample);
        self.filled += 1;
        true
    }

    /// The one added last.
    #[inline]
    pub(crate) fn last_mut(&mut self) -> Option<&mut Sample> {
        self.samples.get_mut(self.filled.checked_sub(1)?)?.as_mut()
    }

    /// Changes each, as long as that says yes; whether all did.
    pub(crate) fn each(&mut self, change: impl FnMut(&mut Sample) -> bool) -> bool {
        self.samples.iter_mut().take(self.filled).flatten().all(change)
    }

    /// Takes the next one out.
    #[inline]
    pub(crate) fn pop(&mut self) -> Option<Sample> {
        if self.next == self.filled {
            return None;
        }
        let sample = self.samples.get(self.next).copied().flatten();
        self.next += 1;
        sample
    }
}
