//! One recorded list of samples and keys gives the same kept entries, whichever face the keys come from.

mod recording;

use record::At;
use recording::{Played, read};
use session::Session;
use session::gauges::Connected;
use session::port::Driver;
use std::fmt::Write as _;
use std::path::Path;

const BEGAN_MS: i64 = 1_900_000_000_000;

/// `KEEP=1` writes the kept entries anew.
#[test]
fn a_recording_gives_the_kept_entries() {
    let folder = tempfile::tempdir().unwrap();
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("recorded");
    let log = folder.path().join("wing.jigtrue");
    let mut session = Session::create(&kept.join("plan.toml"), &log, Some("tam")).unwrap();
    session.set_clock(At::from_millis(BEGAN_MS));
    session.stage(&session::BeginStage::named("ribs on")).unwrap();
    let device = Connected::read(&kept.join("level.toml")).unwrap();
    session.add_instrument(device.facts.clone()).unwrap();
    let mut driver = Driver::recording(&device);
    driver.look(&session);
    for step in read(&std::fs::read_to_string(kept.join("round.txt")).unwrap()) {
        session.set_clock(At::from_millis(BEGAN_MS + i64::try_from(step.at_ms).unwrap()));
        driver.play_to(step.at_ms);
        match step.what {
            Played::Event(event) => driver.event(&mut session, &event).unwrap(),
            Played::Key(key) => driver.key(&mut session, key).unwrap(),
        };
    }
    let mut entries = String::new();
    for entry in session.entries().iter().filter(|entry| entry.seq > 1) {
        let what = serde_json::to_string(&entry.what).unwrap();
        writeln!(entries, "{} {} {} {what}", entry.seq, entry.at, entry.by).unwrap();
    }
    let file = kept.join("round.entries");
    if std::env::var_os("KEEP").is_some() {
        std::fs::write(&file, &entries).unwrap();
    }
    assert_eq!(entries, std::fs::read_to_string(file).unwrap());
}
