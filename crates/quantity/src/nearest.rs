//! The nearest of several words, for suggestions.

use alloc::string::String;
use core::cmp::Reverse;

/// Words with more bytes than this are not compared: comparing costs by the length.
const LONGEST: usize = 200;

/// The word most like the one given, if any is like enough; capitals do not count. Of words as near, the one that begins like it.
///
/// Every place where a word of a closed set is typed (a verb, an option, a column, a key, a name of the plan) asks here, so that a slip
/// is answered alike everywhere.
#[must_use]
pub fn nearest<'w>(word: &str, known: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let word = word.trim();
    if word.len() > LONGEST {
        return None;
    }
    let wanted = word.to_lowercase();
    let of = |known: &'w str| {
        let lower = known.to_lowercase();
        let apart = strsim::damerau_levenshtein(&wanted, &lower);
        (apart <= allowed(&wanted, &lower)).then(|| ((apart, Reverse(begins_alike(&wanted, &lower))), known))
    };
    let near = known.into_iter().filter(|known| known.len() <= LONGEST).filter_map(of);
    near.min_by_key(|(order, _)| *order).map(|(_, known)| known)
}

/// Letters that may differ: a third of the longer word, at least one, and never all.
fn allowed(one: &str, other: &str) -> usize {
    let longer = one.chars().count().max(other.chars().count());
    (longer / 3).max(1).min(longer.saturating_sub(1))
}

/// Letters that two words begin with alike.
fn begins_alike(one: &str, other: &str) -> usize {
    one.chars().zip(other.chars()).take_while(|(a, b)| a == b).count()
}

/// The same among words that are made for it.
#[must_use]
pub fn nearest_of(word: &str, known: impl IntoIterator<Item = String>) -> Option<String> {
    let known: alloc::vec::Vec<String> = known.into_iter().collect();
    nearest(word, known.iter().map(String::as_str)).map(String::from)
}
