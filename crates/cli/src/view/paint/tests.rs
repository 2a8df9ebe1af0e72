use super::{finish, marks, reversed};
use assess::view::Verdict;

#[test]
fn a_name_cannot_steer_the_terminal() {
    let text = finish(&format!("name \u{1b}[2J\u{7} {}\nnext", reversed("outside")));
    assert!(text.contains("name \\u{1b}[2J\\u{7} "), "{text}");
    assert!(text.contains("outside"));
    assert_eq!(text.lines().count(), 2);
}

/// As in the window: what no reading proves has no colour, and a mark is never wider for its colour.
#[test]
fn marks_have_the_colour_of_their_verdict_and_nothing_else_has_one() {
    for verdict in Verdict::WORST_FIRST {
        let mark = crate::view::marks::of(Some(verdict));
        let text = finish(&marks(&format!("S1 {mark} -0.36 outside")));
        let bare = matches!(verdict, Verdict::Stale | Verdict::Missing | Verdict::CannotJudge);
        assert_eq!(!text.contains('\u{1b}'), bare, "{text}");
        assert!(text.ends_with(" -0.36 outside") && text.starts_with("S1 "), "{text}");
    }
}
