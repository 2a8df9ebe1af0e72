//! Tests of `point`.

use super::*;

#[test]
fn the_rows_are_in_the_order_of_the_enum_and_no_word_is_used_twice() {
    for (i, row) in rows::ROWS.iter().enumerate() {
        assert_eq!((row.kind as usize, row.kind.row().word), (i, row.word));
        assert_eq!(rows::ROWS.iter().filter(|r| r.word == row.word).count(), 1, "{}", row.word);
    }
}
