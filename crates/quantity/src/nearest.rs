//! The nearest of several words, for suggestions.

use alloc::string::String;
use core::cmp::Reverse;

/// Longer words (in bytes) are not compared: the cost grows with the length.
const LONGEST: usize = 200;

/// The known word most like the one given, if any is close enough. Case is ignored. Among equally close words, the
/// one that begins alike wins.
///
/// Every place where a person types a word of a closed set (verb, option, column, key, name in the plan) uses this
/// function, so that a typing slip gets the same suggestion everywhere.
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

/// How many letters may differ: a third of the longer word, at least one, never all of them.
fn allowed(one: &str, other: &str) -> usize {
    let longer = one.chars().count().max(other.chars().count());
    (longer / 3).max(1).min(longer.saturating_sub(1))
}

/// How many leading letters two words share.
fn begins_alike(one: &str, other: &str) -> usize {
    one.chars().zip(other.chars()).take_while(|(a, b)| a == b).count()
}

/// The same for words that are built on the fly.
pub fn nearest_of(word: &str, known: impl IntoIterator<Item = String>) -> Option<String> {
    let known: alloc::vec::Vec<String> = known.into_iter().collect();
    nearest(word, known.iter().map(String::as_str)).map(String::from)
}
