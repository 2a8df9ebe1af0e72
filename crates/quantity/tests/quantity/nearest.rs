//! Finding the nearest known word.

use proptest::prelude::*;
use quantity::nearest;

#[test]
fn words_of_two_letters_and_words_turned_round_have_their_nearest() {
    for (typed, right) in [
        ("uo", "up"),
        ("pu", "up"),
        ("atf", "aft"),
        ("forwrad", "forward"),
        ("FORWARD", "forward"),
        ("outbaord", "outboard"),
    ] {
        assert_eq!(nearest(typed, ["aft", "down", "forward", "outboard", "up"]), Some(right), "{typed}");
    }
    for far in ["", "x", "nonsense", "-1.2", &"forward".repeat(90)] {
        assert_eq!(nearest(far, ["f", "a", "aft", "forward", "up"]), None, "{far}");
    }
    assert_eq!(nearest("R99", ["R9", "S9", "R19"]), Some("R9"));
    assert_eq!(nearest("chek", ["check", "cheek"]), Some("check"));
}

proptest! {
    /// One letter left out, doubled, changed or swapped with the next, in a word of two letters or more.
    #[test]
    fn one_slip_is_recognised(word in "[a-z]{2,12}", at in 0_usize..12, how in 0..4, letter in "[a-z]") {
        let mut typed: Vec<char> = word.chars().collect();
        let at = at % typed.len();
        match how {
            0 => _ = typed.remove(at),
            1 => typed.insert(at, typed[at]),
            2 => typed[at] = letter.chars().next().unwrap(),
            _ => { let next = (at + 1) % typed.len(); typed.swap(at.min(next), at.max(next)); }
        }
        prop_assume!(how != 3 || at + 1 < word.len());
        let typed: String = typed.into_iter().collect();
        prop_assert_eq!(nearest(&typed, [word.as_str()]), Some(word.as_str()), "{}", typed);
    }
}
