#![no_main]
//! Text lines of one form.

mod common;

use instrument::{DialectSpec, Template};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: &[u8]| {
    let Ok(template) = Template::new("#{word} X= {angle deg},Y={cross mm/m .2} {number} T{temperature degC}")
    else {
        unreachable!("a form that is right")
    };
    common::samples_stand_in(&DialectSpec::Lines(template), data, |sample, text| {
        // Written with an exponent or a plus sign, the digits look different: then it is enough that there is a line.
        // Leading zeros and the sign of a zero are not kept.
        let plain = text.contains(&format!("{}", sample.value).replace('-', ""));
        plain || text.contains(['e', 'E', '+'])
    });
});
