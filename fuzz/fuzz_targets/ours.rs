#![no_main]
//! Our own lines behind the common decoder.

mod common;

use instrument::DialectSpec;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: &[u8]| {
    common::samples_stand_in(&DialectSpec::Jigtrue, data, |sample, text| {
        let (sequence, ms) = (sample.sequence.unwrap_or_default(), sample.device_ms.unwrap_or_default());
        let (word, value) = (sample.axis.word(), sample.value);
        text.contains(&format!("~1,sample,{sequence},{ms},{word},{}e{},", value.mantissa, value.exponent))
    });
});
