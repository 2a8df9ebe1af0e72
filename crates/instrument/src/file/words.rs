//! What several dialects read from their tables.

use super::table::{Table, Written};
use crate::Axis;
use std::format;
use std::string::ToString;
use std::vec::Vec;

/// Says what a dialect cannot do without.
pub(super) fn needs<T>(
    table: &Table<'_, '_>,
    of: &str,
    key: &'static str,
    read: Option<T>,
    right: &str,
) -> Option<T> {
    if read.is_none() && !table.table.contains_key(key) {
        let what = format!("`speaks = \"{of}\"` needs `{key}`");
        table.mistakes.note(&table.span, what, Some(right.to_string()));
    }
    read
}

/// The axis that a word means.
pub(super) fn axis(table: &Table<'_, '_>, word: &Written) -> Option<Axis> {
    let all: Vec<_> = Axis::ALL.iter().map(|axis| (axis.word(), *axis)).collect();
    table.one_of(word, "axis", &all)
}
