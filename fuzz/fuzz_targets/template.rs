#![no_main]
//! The form of a line, and a line read by it.

use instrument::{Decoder, DialectSpec, Template};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (&str, &[u8])| {
    let (form, bytes) = input;
    match Template::new(form) {
        Ok(template) => {
            assert!((1..=4).contains(&template.values()));
            let mut decoder = Decoder::new(&DialectSpec::Lines(template));
            decoder.silence();
            decoder.each(bytes, |next| {
                let _ = next.map(|sample| sample.base());
            });
        }
        Err(error) => assert!(form.is_char_boundary(error.at), "{error}"),
    }
});
