//! Negative values among the words of a line: `-1.2`, `-1°12'`. They begin like options, so they are marked while the
//! line is parsed.

use std::ffi::OsString;

/// Replaces the minus while the line is parsed; it does not occur in typed text.
const MARK: char = '\u{f8ff}';

/// The words with every negative value marked.
pub fn marked(words: Vec<OsString>) -> Vec<OsString> {
    let mark = |word: OsString| match word.to_str().and_then(|text| text.strip_prefix('-')) {
        Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit() || c == '.') => {
            OsString::from(format!("{MARK}{rest}"))
        }
        _ => word,
    };
    words.into_iter().map(mark).collect()
}

pub fn typed(word: String) -> String {
    match word.strip_prefix(MARK) {
        Some(rest) => format!("-{rest}"),
        None => word,
    }
}
