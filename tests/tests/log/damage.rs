//! Single bytes of the file changed at random: noticed or harmless, never a crash, never a changed number shown as
//! true.
//!
//! Long: `./test --long --test log damage`.

use journal::{Journal, JournalError};
use record::{At, Entry, StageBegun, What};
use std::fs;
use std::path::Path;
use stories::invented::{PLAN, moment, reading};
use stories::seeded::Draws;

/// Everything in the log on which something could be decided.
#[derive(Debug, PartialEq)]
struct Said {
    entries: Vec<Entry>,
    last_stage: Option<Entry>,
    last_reading: Option<Entry>,
    last_seq: u64,
}

fn ask(log: &Path) -> Result<Said, JournalError> {
    let journal = Journal::open(log)?;
    journal.verify()?;
    Ok(Said {
        entries: journal.entries().collect::<Result<_, _>>()?,
        last_stage: journal.latest_of_kind("stage")?,
        last_reading: journal.latest_of_kind("reading")?,
        last_seq: journal.last_seq()?,
    })
}

/// What a program that never asked for the whole chain would show: no error, or the truth.
fn show(log: &Path, truth: &Said) {
    let Ok(journal) = Journal::open_read_only(log) else { return };
    for (entry, true_entry) in journal.entries().map_while(Result::ok).zip(&truth.entries) {
        assert_eq!(entry, *true_entry, "a changed entry was shown as true");
    }
    // These need only end without a panic.
    let _ = (journal.entries_as_found().count(), journal.head(), journal.latest_of_kind("stage"));
}

fn change_bytes(times: u64, seed: u64) {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("a.jigtrue");
    let mut journal = Journal::create(&log, PLAN, "stories", At::from_millis(0), "ann").unwrap();
    for n in 0..120 {
        let what = if n % 20 == 0 { What::Stage(StageBegun::new(&format!("stage {n}"))) } else { reading(n) };
        journal.append(moment(n), "ann", &what).unwrap();
    }
    drop(journal);
    let whole = fs::read(&log).unwrap();
    let truth = ask(&log).unwrap();
    let (mut noticed, mut harmless) = (0, 0);
    let mut draws = Draws::new(seed);
    for _ in 0..times {
        let at = draws.index(whole.len());
        let change = u8::try_from(1 + draws.below(255)).unwrap();
        let mut bytes = whole.clone();
        bytes[at] ^= change;
        fs::write(&log, &bytes).unwrap();
        match ask(&log) {
            Err(_) => noticed += 1,
            Ok(said) => {
                assert_eq!(said, truth, "byte {at} changed by {change:#04x} was not noticed");
                harmless += 1;
            }
        }
        fs::write(&log, &bytes).unwrap();
        show(&log, &truth);
        let _ = fs::remove_file(stories::wal::beside(&log));
    }
    println!("{times} bytes of {} changed: {noticed} noticed, {harmless} harmless", whole.len());
    assert!(noticed > times / 2, "most of the file is entries, and most changes should be noticed");
}

#[test]
fn single_bytes() {
    change_bytes(300, 3);
}

#[test]
#[ignore = "long"]
fn ten_thousand_single_bytes() {
    change_bytes(10_000, 4);
}
