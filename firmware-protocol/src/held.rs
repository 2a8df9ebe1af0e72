//! Bytes that have been received but not read.

use core::ops::Range;

/// Holds up to `N` bytes in the order they came; they are read from the front.
#[derive(Clone, Debug)]
pub struct Held<const N: usize> {
    bytes: [u8; N],
    start: usize,
    end: usize,
}

impl<const N: usize> Held<N> {
    /// Nothing yet.
    #[must_use]
    pub const fn new() -> Self {
        Self { bytes: [0; N], start: 0, end: 0 }
    }

    /// Appends bytes; returns how many there was room for.
    pub fn received(&mut self, bytes: &[u8]) -> usize {
        if self.start > 0 {
            self.bytes.copy_within(self.start..self.end, 0);
            self.end -= self.start;
            self.start = 0;
        }
        let free = self.bytes.get_mut(self.end..).unwrap_or_default();
        let taken = free.len().min(bytes.len());
        if let (Some(free), Some(bytes)) = (free.get_mut(..taken), bytes.get(..taken)) {
            free.copy_from_slice(bytes);
        }
        self.end += taken;
        taken
    }

    /// What is held.
    #[inline]
    #[must_use]
    pub fn bytes(&self) -> &[u8] {
        self.bytes.get(self.start..self.end).unwrap_or_default()
    }

    /// True if nothing is.
    #[inline]
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.start == self.end
    }

    /// Moves past the first `count` bytes held; returns where they are, to be read by [`Held::passed`] until more
    /// come in.
    #[inline]
    pub fn pass(&mut self, count: usize) -> Range<usize> {
        let from = self.start;
        self.start = self.end.min(from.saturating_add(count));
        from..self.start
    }

    /// Bytes that [`Held::pass`] has just moved past, or a part of them.
    #[inline]
    #[must_use]
    pub fn passed(&self, place: Range<usize>) -> &[u8] {
        self.bytes.get(place).unwrap_or_default()
    }

    /// Bytes already moved past, from `start` on, and all that are held behind them.
    #[inline]
    #[must_use]
    pub fn all_from(&self, start: usize) -> &[u8] {
        self.bytes.get(start..self.end).unwrap_or_default()
    }

    /// Drops everything.
    pub const fn clear(&mut self) {
        self.start = 0;
        self.end = 0;
    }
}

impl<const N: usize> Default for Held<N> {
    fn default() -> Self {
        Self::new()
    }
}
