#![no_main]
//! What stands in the columns of a log's entry: refused, or written again as text that reads back the same.

use libfuzzer_sys::fuzz_target;
use record::What;

fuzz_target!(|text: &str| {
    match What::from_json(text) {
        Ok(what) => {
            let json = what.to_json().expect("what was read can be written");
            assert_eq!(What::from_json(&json).as_ref(), Ok(&what));
            assert_eq!(what.to_json().as_ref(), Ok(&json));
        }
        Err(why) => assert!(!why.to_string().is_empty()),
    }
});
