use super::{bad, finish};

#[test]
fn a_name_cannot_steer_the_terminal() {
    let text = finish(&format!("name \u{1b}[2J\u{7} {}\nnext", bad("outside")));
    assert!(text.contains("name \\u{1b}[2J\\u{7} "), "{text}");
    assert!(text.contains("outside"));
    assert_eq!(text.lines().count(), 2);
}
