//! Tests of `signed`.

use super::inspects;

#[test]
fn who_inspects_is_told_by_a_word_of_the_capacity() {
    for capacity in ["inspector", "Chief Inspector", "inspecting engineer", "inspector (invented)"] {
        assert!(inspects(capacity), "{capacity}");
    }
    for capacity in ["", "builder", "builder of what is uninspected"] {
        assert!(!inspects(capacity), "{capacity}");
    }
}
