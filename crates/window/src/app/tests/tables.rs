//! Tables imported while the window goes on.

use super::{opened, sentence, until};
use std::fmt::Write as _;
use std::path::PathBuf;
use window::Action;

fn table(folder: &std::path::Path, rows: u32) -> PathBuf {
    let mut text = String::from("point,value_deg,by\n");
    for i in 0..rows {
        // On the steps of the plan's beam level, 0.05°: a value between them would be questioned.
        let _ = writeln!(text, "level@root-post,0.{:02},builder", i % 10 * 5);
    }
    let path = folder.join("night.csv");
    std::fs::write(&path, text).unwrap();
    path
}

#[test]
fn a_table_is_imported_while_the_window_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = opened(folder.path());
    let before = desk.model().wing.as_ref().unwrap().entries.len();
    desk.act(Action::Import(table(folder.path(), 500).display().to_string()));
    // The import only began: the window goes on at once and shows the progress.
    assert!(desk.model().import.is_some());
    until(&mut desk, "the end of the import", |d| d.model().import.is_none());
    let notice = desk.model().notice.clone().unwrap();
    assert!(!notice.wrong && notice.words.starts_with("500 readings taken"), "{notice:?}");
    assert_eq!(desk.model().wing.as_ref().unwrap().entries.len(), before + 500);
}

#[test]
fn a_stopped_import_records_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = opened(folder.path());
    let before = desk.model().wing.as_ref().unwrap().entries.len();
    desk.act(Action::Import(table(folder.path(), 60_000).display().to_string()));
    desk.act(Action::StopImport);
    until(&mut desk, "the end of the import", |d| d.model().import.is_none());
    let (mut desk, words) = sentence(desk);
    assert!(words.contains("stopped"), "{words}");
    desk.keep_up();
    assert_eq!(desk.model().wing.as_ref().unwrap().entries.len(), before);
}

#[test]
fn a_bad_table_is_reported() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = opened(folder.path());
    let bad = folder.path().join("bad.csv");
    std::fs::write(&bad, "point,value_deg\nlevel@nowhere,0.1\n").unwrap();
    for file in [bad, folder.path().join("not there.csv")] {
        desk.act(Action::Import(file.display().to_string()));
        until(&mut desk, "the end of the import", |d| d.model().import.is_none());
        let words;
        (desk, words) = sentence(desk);
        assert!(words.contains(&file.display().to_string()), "{words}");
    }
}
