//! Names that look alike to the eye.

use std::sync::OnceLock;
use unicode_normalization::UnicodeNormalization;

/// The first of the names that look the same.
pub struct Alike {
    pub name: String,
    /// Whether every name that looks like this is plain ASCII.
    pub all_plain: bool,
}

/// What a name looks like: names that look alike give the same text. This is the skeleton of Unicode Technical
/// Standard 39 after compatibility normalisation (NFKC), without invisible characters, and with any run of blanks as
/// one.
pub fn looks(name: &str) -> String {
    if name.is_ascii() {
        return without_blanks(name.bytes().map(ascii_looks).collect());
    }
    without_blanks(bones(name))
}

/// What an ASCII character looks like. In an all-ASCII name this does not depend on its neighbours.
fn ascii_looks(byte: u8) -> &'static str {
    static KNOWN: [OnceLock<String>; 128] = [const { OnceLock::new() }; 128];
    KNOWN[usize::from(byte & 0x7f)].get_or_init(|| bones(char::from(byte).encode_utf8(&mut [0; 4])))
}

fn bones(name: &str) -> String {
    let visible: String = name.nfkc().filter(|c| !is_invisible(*c)).collect();
    skeleton(&visible).filter(|c| !is_invisible(*c)).collect()
}

/// The skeleton of Unicode Technical Standard 39 for a text without invisible characters.
fn skeleton(text: &str) -> impl Iterator<Item = char> {
    let looks = |c: char| {
        let known = prototype(c);
        known.unwrap_or_default().chars().chain(known.is_none().then_some(c))
    };
    text.nfd().flat_map(looks).nfd()
}

/// The character that a decomposed character looks like, if any.
fn prototype(c: char) -> Option<&'static str> {
    let row = FROM.binary_search(&u32::from(c)).ok()?;
    let begin = row.checked_sub(1).map_or(0, |before| ENDS[before]);
    TO.get(usize::from(begin)..usize::from(ENDS[row]))
}

// For each character that looks like another: the character, and where its prototype ends in one long text.
include!(concat!(env!("OUT_DIR"), "/looks.rs"));

fn without_blanks(bones: String) -> String {
    bones.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// `Default_Ignorable_Code_Point` of the Unicode character database (DerivedCoreProperties).
const fn is_invisible(c: char) -> bool {
    matches!(c,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}'..='\u{1160}' | '\u{17b4}'..='\u{17b5}' | '\u{180b}'..='\u{180f}'
        | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{fe00}'..='\u{fe0f}'
        | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fff8}' | '\u{1bca0}'..='\u{1bca3}' | '\u{1d173}'..='\u{1d17a}'
        | '\u{e0000}'..='\u{e0fff}')
}

#[cfg(test)]
mod tests;
