//! The nearest of several words, for suggestions.

/// Words with more bytes than this are not compared.
const LONGEST: usize = 200;

/// The word most like the one given, if any is like enough; capitals do not count.
pub fn nearest<'w>(word: &str, known: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    if word.len() > LONGEST {
        return None;
    }
    let wanted = word.to_lowercase();
    known
        .filter(|known| known.len() <= LONGEST)
        .map(|known| (strsim::damerau_levenshtein(&wanted, &known.to_lowercase()), known))
        .filter(|(distance, known)| *distance <= (known.chars().count() / 3).max(1))
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, known)| known)
}
