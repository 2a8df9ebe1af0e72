#![no_main]
//! NMEA 0183 XDR sentences.

mod common;

use instrument::{Axis, DialectSpec, NamedAxis, NmeaSpec, Text};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: &[u8]| {
    let mut spec = NmeaSpec::default();
    spec.names[0] = Text::from("PITCH").ok().map(|name| NamedAxis { name, axis: Axis::Angle });
    spec.names[1] = Text::from("").ok().map(|name| NamedAxis { name, axis: Axis::Temperature });
    common::samples_stand_in(&DialectSpec::Nmea(spec), data, |sample, text| {
        // Leading zeros and the sign of a zero are not kept.
        text.contains(&format!("{},", sample.value).replace('-', ""))
    });
});
