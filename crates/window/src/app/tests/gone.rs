//! The log's file is taken away while the window is open.

use super::{opened, sentence, typed};

#[test]
fn a_log_deleted_or_moved_while_it_is_open_is_a_sentence_and_nothing_is_shown_as_taken() {
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
