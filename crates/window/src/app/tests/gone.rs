//! The log's file is removed while the window is open.

use super::{opened, sentence, typed};
use assess::Chain;
use window::Action;

#[test]
fn a_log_deleted_or_moved_while_open_is_reported_and_nothing_is_shown_as_taken() {
    for moved in [false, true] {
        let folder = tempfile::tempdir().unwrap();
        let (mut desk, log) = opened(folder.path());
        desk.act(window::Action::BeginStage("jig empty".to_owned()));
        let before = desk.model().wing.as_ref().unwrap().last_entry();
        if moved {
            std::fs::rename(&log, folder.path().join("elsewhere.jigtrue")).unwrap();
        } else {
            std::fs::remove_file(&log).unwrap();
        }
        desk.act(typed("level@root-post", "0.1"));
        assert_eq!(desk.model().wing.as_ref().unwrap().last_entry(), before, "moved: {moved}");
        let (_, said) = sentence(desk);
        assert!(said.contains("was deleted, moved or replaced"), "moved: {moved}: {said}");
    }
}

/// Even if nobody writes, the screen does not go on showing a log that is no longer there.
#[test]
fn a_log_that_is_gone_is_not_shown_as_if_it_were_there() {
    for moved in [false, true] {
        let folder = tempfile::tempdir().unwrap();
        let (mut desk, log) = opened(folder.path());
        desk.act(Action::BeginStage("jig empty".to_owned()));
        if moved {
            std::fs::rename(&log, folder.path().join("elsewhere.jigtrue")).unwrap();
        } else {
            std::fs::remove_file(&log).unwrap();
        }
        desk.keep_up();
        assert!(desk.model().wing.is_none(), "moved: {moved}: it is still shown");
        let (_, said) = sentence(desk);
        assert!(said.contains("was deleted, moved or replaced"), "moved: {moved}: {said}");
    }
}

/// Another program changes an entry that was there when the log was opened, and repairs the guards.
#[test]
fn an_entry_changed_while_the_log_is_open_holds_the_gate() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, log) = opened(folder.path());
    desk.act(Action::BeginStage("jig empty".to_owned()));
    desk.act(typed("level@root-post", "0.05"));
    desk.keep_up();
    assert!(matches!(desk.model().wing.as_ref().unwrap().chain, Chain::Whole));
    let sql = "UPDATE entry SET body = replace(body, '0.05', '0.06') WHERE kind = 'reading'";
    stories::forge::change_rows(&log, sql);
    desk.keep_up();
    let wing = desk.model().wing.as_ref().unwrap();
    assert!(matches!(wing.chain, Chain::Broken(_)), "{:?}", wing.chain);
    assert_eq!(wing.assessment.gate.state, record::GateState::Hold);
    assert!(wing.read_only);
    assert!(desk.model().notice.as_ref().is_some_and(|n| n.wrong));
    // Opened again, it says so in a line that can be read at arm's length.
    desk.act(Action::OpenLog(log.display().to_string()));
    let said = desk.model().notice.as_ref().unwrap().words.clone();
    assert_eq!(said, "Opened for reading only. Log broken at entry 3: look, do not sign");
}

/// The instrument on the port and its watch belong to the log that was open.
#[test]
fn another_log_begins_without_the_port_and_watch_of_the_last() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = opened(folder.path());
    let other = folder.path().join("other.jigtrue");
    drop(session::Session::create(&super::plan(folder.path()), &other, Some("builder")).unwrap());
    std::fs::write(folder.path().join("level.toml"), stories::jig::LEVEL).unwrap();
    desk.play(session::gauges::Connected::read(&folder.path().join("level.toml")).unwrap());
    desk.act(Action::Watch(Some("level@root-post".parse().unwrap())));
    assert!(desk.watching());
    desk.act(Action::OpenLog(other.display().to_string()));
    assert!(!desk.watching() && !desk.listening());
    let wing = desk.model().wing.as_ref().unwrap();
    assert!(wing.log.ends_with("other.jigtrue"));
    assert_eq!(wing.live, bench::View::default());
}
