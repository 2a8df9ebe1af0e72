#![no_main]
//! Tables of readings: refused as a whole with lines named, or recorded as a whole, the chain whole either way.

use libfuzzer_sys::fuzz_target;
use session::Session;
use std::cell::RefCell;
use std::fs;
use std::path::{Path, PathBuf};

/// A larger log is begun again, so that one run costs what the others cost.
const MOST_ENTRIES: u64 = 2000;
const PLAN: &str = include_str!("../../demo-readings/two-post/plan.toml");

thread_local! {
    static BENCH: RefCell<Option<(Session, PathBuf)>> = const { RefCell::new(None) };
}

fn bench() -> (Session, PathBuf) {
    let memory = Path::new("/dev/shm");
    let folder = if memory.is_dir() { memory.to_owned() } else { std::env::temp_dir() };
    let folder = folder.join(format!("jigtrue-fuzz-csv-{}", std::process::id()));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir(&folder).expect("a folder");
    let plan = folder.join("plan.toml");
    fs::write(&plan, PLAN).expect("a plan");
    (Session::create(&plan, &folder.join("a.jigtrue"), Some("ann")).expect("a log"), folder)
}

fuzz_target!(|data: &[u8]| {
    BENCH.with_borrow_mut(|kept| {
        let (session, folder) = kept.get_or_insert_with(bench);
        let table = folder.join("table.csv");
        fs::write(&table, data).expect("a table");
        let before = session.head().entries;
        match session.import_csv(&table, &session::ImportWith { again: true, ..Default::default() }, &mut |_, _, _| true) {
            Ok(report) => {
                session.refresh().expect("what was written is read");
                assert_eq!(report.last_entry, before + report.readings);
                assert_eq!(session.head().entries, report.last_entry);
            }
            Err(why) => {
                assert!(!session.refresh().expect("the log is read"), "{why}, yet something was written");
                assert!(!why.to_string().contains('\u{1b}'), "{why:?}");
            }
        }
        if session.head().entries > MOST_ENTRIES {
            assert_eq!(session.verify().expect("the chain is whole").entries, session.head().entries);
            *kept = None;
        }
    });
});
