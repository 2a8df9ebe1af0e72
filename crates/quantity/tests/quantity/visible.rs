//! Characters that cannot be printed, drawn or seen.

use quantity::shown::visible;

fn shown(text: &str) -> String {
    visible(text, |c| !matches!(c, '中' | '✂'), |_| ()).into_owned()
}

#[test]
fn plain_text_is_unchanged() {
    assert_eq!(shown("rib 4, Łódź, Жук, Ωmega"), "rib 4, Łódź, Жук, Ωmega");
    assert_eq!(shown(r"a\b"), r"a\b");
}

#[test]
fn invisible_characters_are_spelled_out() {
    assert_eq!(shown("a\nb\u{7}"), r"a\u{a}b\u{7}");
    assert_eq!(shown("abc\u{202e}cba"), r"abc\u{202e}cba");
    assert_eq!(shown("S\u{200b}4"), r"S\u{200b}4");
    assert_eq!(shown("中"), r"\u{4e2d}");
}

#[test]
fn a_typed_escape_is_not_taken_for_a_real_one() {
    assert_eq!(shown(r"\u{7}"), r"\u{5c}u{7}");
    assert_ne!(shown(r"\u{7}"), shown("\u{7}"));
}
