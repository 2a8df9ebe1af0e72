#![no_main]
//! 13-nibble frames.

mod common;

use instrument::{DialectSpec, Unit};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: &[u8]| {
    common::samples_stand_in(&DialectSpec::Bcd, data, |sample, text| {
        let (digits, decimals) = (sample.value.mantissa.unsigned_abs(), sample.value.exponent.unsigned_abs());
        let unit = u8::from(sample.unit == Unit::Inch);
        // In upper or lower case, with blanks wherever the board puts them.
        let text = text.replace([' ', '\t'], "").to_ascii_uppercase();
        ["0", "8"].iter().any(|sign| text.contains(&format!("FFFF{sign}{digits:06}{decimals}{unit}")))
    });
});
