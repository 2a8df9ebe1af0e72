//! Tests of `alike`.

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
