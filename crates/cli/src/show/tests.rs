//! Tests of `show`.

use super::plain;

#[test]
fn ascii_text_has_only_ascii() {
    let text = plain("0.1° ± 0.05°, N·m, χ² ≤ 3 ░•┤ Ω");
    assert!(text.is_ascii());
    assert_eq!(text, "0.1 deg +- 0.05 deg, N.m, chi2 <= 3 .*> \\u{3a9}");
}
