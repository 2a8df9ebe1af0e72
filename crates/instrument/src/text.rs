//! A short text stored in place.

use arrayvec::ArrayString;

/// At most `N` bytes of text, without an allocator.
pub type Text<const N: usize> = ArrayString<N>;

/// As much of the text as fits, cut at a character boundary.
pub(crate) fn cut<const N: usize>(text: &str) -> Text<N> {
    let mut end = text.len().min(N);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    text.get(..end).and_then(|text| Text::from(text).ok()).unwrap_or_default()
}
