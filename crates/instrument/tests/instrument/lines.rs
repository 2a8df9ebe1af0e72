//! Where a line begins and ends, and the first one after the port was opened.

use instrument::{Decoder, DialectSpec, Fault, Template};

fn decoder() -> Decoder {
    Decoder::new(&DialectSpec::Lines(Template::new("{angle deg .1}").unwrap()))
}

fn given(decoder: &mut Decoder, bytes: &[u8]) -> Vec<Result<f64, Fault>> {
    let mut all = Vec::new();
    decoder.each(bytes, |next| all.push(next.map(|sample| sample.base())));
    all
}

#[test]
fn the_first_line_may_have_begun_before() {
    assert_eq!(given(&mut decoder(), b"2.5\r\n-12.6\r\n"), [Err(Fault::Start), Ok(-12.6)]);
}

#[test]
fn after_silence_the_first_line_counts() {
    let mut decoder = decoder();
    decoder.silence();
    assert_eq!(given(&mut decoder, b"-12.6\n"), [Ok(-12.6)]);
    assert_eq!(given(&mut decoder, b"-1"), []);
    decoder.silence();
    assert_eq!(given(&mut decoder, b"2.5\n7.0\n"), [Err(Fault::Start), Ok(7.0)]);
}

#[test]
fn a_line_without_an_end_is_reported_once() {
    let mut decoder = decoder();
    decoder.silence();
    assert_eq!(given(&mut decoder, &[b'x'; 300]), [Err(Fault::TooLong)]);
    assert_eq!(given(&mut decoder, &[b'x'; 300]), []);
    assert_eq!(given(&mut decoder, b"5.0\n6.0\r"), [Ok(6.0)]);
}
