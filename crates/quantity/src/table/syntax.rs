//! Parses the text as TOML, and guesses what was meant where it is not.

use super::{Mistakes, TableFault};
use alloc::borrow::ToOwned;
use alloc::format;
use alloc::string::String;
use core::fmt::Display;
use toml::Spanned;
use toml::de::DeTable;

/// The text as TOML; `None` if it is not, which is noted.
pub fn document<'t, W: Display + From<TableFault>>(
    text: &'t str,
    mistakes: &Mistakes<'_, W>,
) -> Option<Spanned<DeTable<'t>>> {
    if let Some(at) = text.find(|c: char| c.is_control() && !matches!(c, '\n' | '\r' | '\t')) {
        mistakes.note(at..at, TableFault::NotText, Some("is this the right file?".to_owned()));
        return None;
    }
    match DeTable::parse(text) {
        Ok(root) => Some(root),
        Err(error) => {
            let span = error.span().unwrap_or(0..0);
            let hint = hint(text, span.start);
            mistakes.note(span, TableFault::NotToml(error), Some(hint));
            None
        }
    }
}

/// What to write where TOML cannot be read.
fn hint(text: &str, at: usize) -> String {
    let before = text.get(..at).unwrap_or(text);
    let start = before.rfind('\n').map_or(0, |n| n + 1);
    let line = text.get(start..).and_then(|rest| rest.lines().next()).unwrap_or_default();
    let Some((key, value)) = line.split_once('=') else {
        return "write it in TOML: [tables], and lines of the form key = value".to_owned();
    };
    let value = value.split('#').next().unwrap_or_default().trim();
    if value.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c)) {
        let mut neighbours = value.chars().zip(value.chars().skip(1)).zip(value.chars().skip(2));
        if neighbours.any(|((a, b), c)| a.is_ascii_digit() && b == ',' && c.is_ascii_digit()) {
            return "write the decimal mark as a point, as in 0.35".to_owned();
        }
        if value.len() < 40 && !value.contains(['"', '[', '{']) {
            return format!("put a value with a unit in quotes: {} = \"{value}\"", key.trim_end());
        }
    }
    if value.is_empty() {
        return format!("write a value after {} =", key.trim());
    }
    "put texts in quotes, lists between [ and ], and several values on one line between { and }".to_owned()
}
