//! Tests of `flags`.

use super::*;

#[test]
fn upper_case_bars_known_or_not() {
    let held = Flags::from_field(b"H").expect("a flag");
    assert!(held.bars() && held.contains(Flags::HELD));
    let later = Flags::from_field(b"Xl").expect("flags");
    assert!(later.bars() && later.contains(Flags::UNKNOWN_BAR | Flags::BATTERY_LOW));
    let note = Flags::from_field(b"q").expect("a flag");
    assert!(!note.bars() && note.contains(Flags::UNKNOWN_NOTE));
}

#[test]
fn a_field_has_one_spelling() {
    for wrong in [&b""[..], b"--", b"lB", b"ll", b"l-", b"1", b" ", b"l "] {
        assert_eq!(Flags::from_field(wrong), None, "{wrong:?}");
    }
}
