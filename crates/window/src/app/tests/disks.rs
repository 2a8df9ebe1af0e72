//! Full disks, damaged logs, files that are not logs.

use super::{desk, opened, sentence, typed};
use std::process::Command;
use window::Action;

/// A small file system in memory, removed when dropped.
struct SmallDisk(tempfile::TempDir);

impl SmallDisk {
    fn mount() -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let done = Command::new("mount")
            .args(["-t", "tmpfs", "-o", "size=400k", "tmpfs"])
            .arg(folder.path())
            .output();
        if done.is_ok_and(|o| o.status.success()) {
            return Some(Self(folder));
        }
        eprintln!("SKIPPED, NOTHING WAS TESTED: mounting a small file system needs root");
        None
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(self.0.path()).output();
    }
}

#[test]
fn on_a_full_disk_a_sentence_says_so_and_what_was_shown_as_taken_is_in_the_log() {
    let Some(disk) = SmallDisk::mount() else { return };
    let (mut desk, log) = opened(disk.0.path());
    let mut taken = 0;
    while taken < 2000 {
        desk.act(typed("level@root-post", "0.05"));
        if desk.model().notice.as_ref().is_some_and(|n| n.wrong) {
            break;
        }
        taken += 1;
    }
    assert!(taken < 2000, "the disk never filled up");
    let (mut desk, words) = sentence(desk);
    assert!(words.contains("full"), "{words}");
    // The sheet cannot be written either, and the window says so.
    desk.act(Action::WriteSheet);
    let (desk, _) = sentence(desk);
    drop(desk);
    let session = session::Session::open_read_only(&log).unwrap();
    let readings = session.entries().iter().filter(|e| matches!(e.what, record::What::Reading(_)));
    assert_eq!(readings.count(), taken);
}

#[test]
fn a_damaged_log_is_reported() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, log) = opened(folder.path());
    for _ in 0..5 {
        desk.act(typed("level@root-post", "0.05"));
    }
    desk.act(Action::CloseLog);
    drop(desk);
    let whole = std::fs::read(&log).unwrap();
    // Cut off, overwritten, and no log at all.
    let cut = whole[..whole.len() / 3].to_vec();
    let mut over = whole.clone();
    for byte in &mut over[4096..] {
        *byte ^= 0x5a;
    }
    for (name, bytes) in [("cut", cut), ("over", over), ("none", b"point,value\n".to_vec())] {
        let file = folder.path().join(format!("{name}.jigtrue"));
        std::fs::write(&file, bytes).unwrap();
        let mut desk = self::desk();
        desk.act(Action::OpenLog(file.display().to_string()));
        desk.keep_up();
        let (_, words) = sentence(desk);
        assert!(words.contains(name), "the file is not named: {words}");
    }
}

#[test]
fn an_entry_changed_behind_its_back_holds_the_gate_with_a_reason() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, log) = opened(folder.path());
    // A value between the display's steps, so that its digits occur only once in the file; it is confirmed.
    let Action::Take { point, text, .. } = typed("level@root-post", "0.4321") else { panic!() };
    desk.act(Action::Take {
        point,
        text,
        facing: None,
        instrument: None,
        temperature: None,
        new_round: false,
        sure: bench::Sure::Yes,
    });
    desk.act(Action::CloseLog);
    let mut bytes = std::fs::read(&log).unwrap();
    let at = bytes.windows(6).position(|w| w == b"0.4321").unwrap();
    bytes[at + 5] = b'2';
    std::fs::write(&log, bytes).unwrap();
    desk.act(Action::OpenLog(log.display().to_string()));
    let broken = desk.model().wing.as_ref().is_some_and(|w| matches!(w.chain, assess::Chain::Broken(_)));
    let refused = desk.model().notice.as_ref().is_some_and(|n| n.wrong);
    assert!(broken || refused, "{:?}", desk.model().notice);
}
