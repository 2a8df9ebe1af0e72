#![no_main]
//! What a person types for a value: refused at a place inside the text, or a number within its limits. The first byte
//! says what is expected.

use libfuzzer_sys::fuzz_target;
use quantity::{Kind, typed, typed_any, typed_in, unit_named};

const KINDS: [Kind; 4] = [Kind::Angle, Kind::Length, Kind::Torque, Kind::Temperature];
const HEADS: [&str; 6] = ["deg", "mm", "in", "mm/m", "in-lb", "°F"];

fuzz_target!(|data: &[u8]| {
    let Some((choice, rest)) = data.split_first() else { return };
    let Ok(text) = str::from_utf8(rest) else { return };
    let kind = KINDS[usize::from(*choice) % KINDS.len()];
    let head = unit_named(HEADS[usize::from(*choice) % HEADS.len()]).expect("a unit");
    for (read, expected) in
        [(typed(text, kind), Some(kind)), (typed_in(text, head), Some(head.kind())), (typed_any(text), None)]
    {
        match read {
            Ok(value) => {
                assert!(
                    value.amount.base().is_finite() && value.resolution > 0.0 && value.resolution.is_finite()
                );
                assert!(expected.is_none_or(|kind| kind == value.amount.kind()));
            }
            Err(why) => {
                assert!(text.is_char_boundary(why.at), "{why:?} in {text:?}");
                assert!(!why.to_string().is_empty());
            }
        }
    }
    let _ = unit_named(text);
});
