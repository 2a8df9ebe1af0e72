#![no_main]
//! Instrument files: refused with a place inside the text, or fit to make a decoder from.

use instrument::{Decoder, InstrumentFile};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    match InstrumentFile::read(text) {
        Ok(file) => {
            assert!(file.resolution > 0.0 && file.settle.band >= file.resolution);
            let mut decoder = Decoder::new(&file.dialect);
            decoder.ask(0);
            assert!(decoder.next().is_none());
        }
        Err(errors) => {
            let lines: Vec<usize> = errors.errors().iter().map(|error| error.line).collect();
            assert!(!lines.is_empty() && lines.is_sorted(), "{errors}");
            assert!(lines.iter().all(|line| (1..=text.matches('\n').count() + 1).contains(line)), "{errors}");
        }
    }
});
