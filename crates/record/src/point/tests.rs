//! Tests of `point`.

use super::*;

#[test]
fn no_word_is_used_twice() {
    let mut words: Vec<&str> = PointKind::all().map(PointKind::word).collect();
    words.sort_unstable();
    assert!(words.windows(2).all(|pair| pair[0] != pair[1]), "{words:?}");
}
