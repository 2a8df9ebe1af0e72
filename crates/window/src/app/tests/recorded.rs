//! One recorded list of samples and keys: the terminal plays the same and must write the same entries.

use super::desk;
use bench::recording::{Played, read};
use bench::{Answer, Key, Question};
use record::At;
use session::Session;
use session::gauges::Connected;
use std::fmt::Write as _;
use std::path::Path;
use window::Action;

#[test]
fn a_recording_gives_the_entries_that_the_terminal_writes() {
    let folder = tempfile::tempdir().unwrap();
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/recorded");
    let log = folder.path().join("wing.jigtrue");
    let mut session = Session::create(&kept.join("plan.toml"), &log, Some("tam")).unwrap();
    session.set_clock(At::from_millis(1_900_000_000_000));
    session.stage(&session::BeginStage::named("ribs on")).unwrap();
    let device = Connected::read(&kept.join("level.toml")).unwrap();
    session.add_instrument(device.facts.clone()).unwrap();
    drop(session);
    let mut desk = desk();
    desk.act(Action::SetWho(window::model::Person { name: "tam".to_owned(), ..Default::default() }));
    desk.open(&log);
    desk.play(device.clone());
    for step in read(&std::fs::read_to_string(kept.join("round.txt")).unwrap()) {
        let at_ms = i64::try_from(step.at_ms).unwrap();
        desk.play_at(step.at_ms, At::from_millis(1_900_000_000_000 + at_ms));
        match step.what {
            Played::Event(event) => desk.play_event(&event),
            Played::Key(line) => {
                let question = desk.bench_view().question;
                let key = key(&line, question.as_ref(), &desk, &device);
                desk.act(Action::Bench(key));
            }
        }
    }
    let session = Session::open_read_only(&log).unwrap();
    let mut entries = String::new();
    for entry in session.entries().iter().filter(|entry| entry.seq > 1) {
        let what = serde_json::to_string(&entry.what).unwrap();
        writeln!(entries, "{} {} {} {what}", entry.seq, entry.at, entry.by).unwrap();
    }
    assert_eq!(entries, std::fs::read_to_string(kept.join("round.entries")).unwrap());
}

/// The button or key of the window that does what the line does in the terminal.
fn key(line: &str, question: Option<&Question>, desk: &super::Desk, device: &Connected) -> Key {
    match line.split_once(' ').unwrap_or((line, "")) {
        ("", _) => Key::Main,
        ("!", _) => Key::TakeAnyway,
        ("n", _) if question.is_some() => Key::Answer(Answer::No),
        ("n", _) => Key::Skip,
        ("b", reason) => Key::Withdraw { reason: reason.to_owned() },
        ("s", point) => Key::Go(desk.target_named(point, device.quantity())),
        other => panic!("no key for {other:?}"),
    }
}
