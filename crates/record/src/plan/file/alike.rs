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
mod tests {
    use super::looks;

    #[test]
    fn the_table_without_pointers_says_what_the_crate_says() {
        for c in ('\0'..='\u{2ffff}').chain('\u{e0fff}'..='\u{e2000}').filter(|c| !super::is_invisible(*c)) {
            let text = c.to_string();
            assert!(super::skeleton(&text).eq(unicode_security::skeleton(&text)), "{c:?}");
        }
        let text = "Ra\u{301}b\u{405}1 \u{2160}m0O\u{1d400}";
        assert!(super::skeleton(text).eq(unicode_security::skeleton(text)));
    }

    #[test]
    fn ascii_looks_as_it_does_among_other_characters() {
        let ascii: String = (0..128_u8).map(char::from).collect();
        for pair in ascii.as_bytes().windows(2).chain([ascii.as_bytes()]) {
            let text = std::str::from_utf8(pair).unwrap();
            let whole = super::without_blanks(super::bones(text));
            assert_eq!(looks(text), whole, "{text:?}");
        }
    }

    #[test]
    fn what_the_eye_cannot_tell_apart_looks_the_same() {
        for (a, b) in [
            ("S1", "\u{405}1"),           // Cyrillic Dze
            ("A", "\u{391}"),             // Greek Alpha
            ("R\u{e9}", "Re\u{301}"),     // composed and not
            ("S1", "S\u{200b}1"),         // zero width space
            ("S1", "S1\u{fe0f}"),         // a variation selector
            ("S1", "\u{ff33}\u{ff11}"),   // full width
            ("rib 1", "rib\u{a0}1"),      // a no-break space
            ("rib 1", "rib \u{2009}1"),   // an additional thin space
            ("post", "\u{440}\u{43e}st"), // Cyrillic er, o
        ] {
            assert_eq!(looks(a), looks(b), "{a:?} {b:?}");
        }
        for (a, b) in [("S1", "S2"), ("S1", "\u{a7}1"), ("rib 1", "rib 11"), ("Ö1", "O1"), ("Я1", "R1")] {
            assert_ne!(looks(a), looks(b), "{a:?} {b:?}");
        }
    }
}
