//! A short text kept in place.

use core::fmt;

/// At most `N` bytes of text, without an allocator.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Text<const N: usize> {
    bytes: [u8; N],
    length: usize,
}

impl<const N: usize> Text<N> {
    /// The text, if it fits.
    #[must_use]
    pub fn new(text: &str) -> Option<Self> {
        let mut bytes = [0; N];
        bytes.get_mut(..text.len())?.copy_from_slice(text.as_bytes());
        Some(Self { bytes, length: text.len() })
    }

    /// As much of the text as fits, cut between two characters.
    #[must_use]
    pub fn cut(text: &str) -> Self {
        let mut end = text.len().min(N);
        while !text.is_char_boundary(end) {
            end -= 1;
        }
        text.get(..end).and_then(Self::new).unwrap_or(Self { bytes: [0; N], length: 0 })
    }

    /// Adds to it, if there is room for all.
    pub fn push(&mut self, more: &str) -> Option<()> {
        let end = self.length + more.len();
        self.bytes.get_mut(self.length..end)?.copy_from_slice(more.as_bytes());
        self.length = end;
        Some(())
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        self.bytes.get(..self.length).and_then(|bytes| core::str::from_utf8(bytes).ok()).unwrap_or_default()
    }
}

impl<const N: usize> Default for Text<N> {
    fn default() -> Self {
        Self { bytes: [0; N], length: 0 }
    }
}

impl<const N: usize> fmt::Write for Text<N> {
    fn write_str(&mut self, more: &str) -> fmt::Result {
        self.push(more).ok_or(fmt::Error)
    }
}

impl<const N: usize> fmt::Debug for Text<N> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_str(), f)
    }
}

impl<const N: usize> fmt::Display for Text<N> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}
