//! Tests of `lines`.

use super::*;

fn given(lines: &mut Lines, bytes: &[u8]) -> std::vec::Vec<Result<std::string::String, Fault>> {
    assert_eq!(lines.received(bytes), bytes.len());
    let mut all = std::vec::Vec::new();
    while let Some(next) = lines.next() {
        all.push(next.map(|line| std::string::String::from_utf8_lossy(lines.get(line)).into_owned()));
    }
    all
}

fn line(text: &str) -> Result<std::string::String, Fault> {
    Ok(text.into())
}

#[test]
fn the_first_line_may_have_begun_before() {
    let mut lines = Lines::new(Marks::LINES);
    assert_eq!(given(&mut lines, b"2.5\r\n-12.6\r\n"), [Err(Fault::Start), line("-12.6")]);
}

#[test]
fn after_silence_the_first_line_counts() {
    let mut lines = Lines::new(Marks::LINES);
    lines.silence();
    assert_eq!(given(&mut lines, b"-12.6\n"), [line("-12.6")]);
    assert_eq!(given(&mut lines, b"-1"), []);
    lines.silence();
    assert_eq!(given(&mut lines, b"2.5\n7\n"), [Err(Fault::Start), line("7")]);
}

#[test]
fn a_line_without_an_end_is_reported_once() {
    let mut lines = Lines::new(Marks::LINES);
    lines.silence();
    assert_eq!(given(&mut lines, &[b'x'; 300]), [Err(Fault::TooLong)]);
    assert_eq!(given(&mut lines, &[b'x'; 300]), []);
    assert_eq!(given(&mut lines, b"5\n6\r"), [line("6")]);
}
