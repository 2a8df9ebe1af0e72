#![no_main]
//! Plans: refused with places inside the text, or fit to count points and judge an empty log.

use libfuzzer_sys::fuzz_target;
use assess::{Chain, assess};
use record::{At, Entry, Plan, What};

fuzz_target!(|text: &str| {
    match Plan::parse(text) {
        Ok(plan) => {
            let points = plan.points();
            assert!(points.len() <= Plan::MAX_POINTS);
            for point in points.iter().take(100) {
                assert!(plan.quantity_of(point).is_some(), "{point}");
                assert_eq!(point.to_string().parse().as_ref(), Ok(point));
            }
            let program = String::new();
            let what = What::Started { plan: text.to_owned(), program };
            let start = Entry { seq: 1, at: At::from_millis(0), by: String::new(), offset: None, what };
            let _ = assess(&plan, &[start], &Chain::Whole);
        }
        Err(errors) => assert!(!errors.to_string().is_empty()),
    }
});
