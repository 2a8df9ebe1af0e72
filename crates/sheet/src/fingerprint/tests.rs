use super::*;

fn mark() -> Mark {
    Mark {
        kind: DocumentKind::Sheet,
        fingerprint: Fingerprint::new(&"1a".repeat(32), &"F0".repeat(32), 214).unwrap(),
        paper: Paper::Letter,
        form: Form::Component("torque tube".to_owned()),
        made_at: "2031-04-05T06:07:08Z".to_owned(),
    }
}

#[test]
fn a_mark_is_found_again_among_other_bytes() {
    let mut bytes = b"%PDF \xff\xfe ".to_vec();
    bytes.extend(mark().text().bytes());
    bytes.extend(b"</x> ".iter().chain(mark().text().as_bytes()));
    assert_eq!(mark_of_pdf(&bytes), Some(mark()));
}

#[test]
fn damaged_or_contradicting_marks_are_ignored() {
    let text = mark().text();
    assert_eq!(mark_of_pdf(b""), None);
    assert_eq!(mark_of_pdf(&text.as_bytes()[..text.len() - 1]), None);
    assert_eq!(mark_of_pdf(text.replace("entries=214", "entries=0214").as_bytes()), None);
    assert_eq!(mark_of_pdf(text.replace("plan=1a", "plan=xx").as_bytes()), None);
    let other = text.replace("entries=214", "entries=215");
    assert_eq!(mark_of_pdf(format!("{text} {other}").as_bytes()), None);
}
