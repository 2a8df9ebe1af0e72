//! Disks that refuse, and files that go away: a clear message, nothing lost.

use journal::{Fault, Journal, JournalError, NewEntry};
use record::{At, What};
use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::Command;
use stories::disk::{SmallDisk, skip};
use stories::invented::{PLAN, moment, reading};
use stories::wal;

fn create(log: &Path) -> Result<Journal, JournalError> {
    Journal::create(log, PLAN, "stories", At::from_millis(0), "ann")
}

fn append(journal: &mut Journal, n: u64) -> Result<u64, JournalError> {
    journal.append(moment(n), "ann", &reading(n)).map(|head| head.seq)
}

fn whats(journal: &Journal) -> Vec<What> {
    journal.entries().skip(1).map(|e| e.unwrap().what).collect()
}

#[test]
fn a_full_disk() {
    let Some(disk) = SmallDisk::mount(512) else { return };
    let log = disk.path().join("a.jigtrue");
    let mut journal = create(&log).unwrap();
    let mut kept = 0;
    while append(&mut journal, kept).is_ok() {
        kept += 1;
        assert!(kept < 100_000, "it never fills");
    }
    assert!(kept > 10);
    let error = append(&mut journal, kept).unwrap_err();
    assert_eq!(error.fault, Fault::Full);
    assert!(error.to_string().contains("make room"), "{error}");
    // None of the refused entries is there, all acknowledged ones are, also for whoever opens it now.
    assert!(whats(&journal).into_iter().eq((0..kept).map(reading)));
    drop(journal);
    let journal = Journal::open_read_only(&log).unwrap();
    assert_eq!(journal.verify().unwrap().seq, kept + 1);
}

#[test]
fn a_disk_that_fills_and_is_cleared_again() {
    let Some(disk) = SmallDisk::mount(1024) else { return };
    let log = disk.path().join("a.jigtrue");
    let mut journal = create(&log).unwrap();
    append(&mut journal, 0).unwrap();
    let filler = disk.fill();
    let refused = (1..2000).find_map(|n| append(&mut journal, n).err().map(|error| (n, error)));
    let (kept, error) = refused.unwrap();
    assert_eq!(error.fault, Fault::Full);
    let many = (0..5000).map(|n| Ok::<_, JournalError>(NewEntry::new(moment(n), "ann", reading(n))));
    assert_eq!(journal.append_many(many).unwrap_err().fault, Fault::Full);
    assert_eq!(create(&disk.path().join("b.jigtrue")).unwrap_err().fault, Fault::Full);
    assert!(!disk.path().join("b.jigtrue").exists(), "a log that could not be started leaves nothing");
    let copy = disk.path().join("copy.jigtrue");
    assert_eq!(journal.backup_to(&copy).unwrap_err().fault, Fault::Full);
    assert!(!copy.exists());
    fs::remove_file(filler).unwrap();
    append(&mut journal, kept).unwrap();
    assert!(whats(&journal).into_iter().eq((0..=kept).map(reading)));
    assert_eq!(journal.verify().unwrap().seq, kept + 2);
}

/// A reader needs no room; what is started needs room for the log and for the files beside it.
#[test]
fn a_disk_with_hardly_any_room() {
    let Some(disk) = SmallDisk::mount(512) else { return };
    let log = disk.path().join("a.jigtrue");
    append(&mut create(&log).unwrap(), 0).unwrap();
    let filler = disk.fill();
    assert_eq!(Journal::open_read_only(&log).unwrap().verify().unwrap().seq, 2);
    let room = fs::metadata(&filler).unwrap().len() - (28 << 10);
    fs::File::options().write(true).open(&filler).unwrap().set_len(room).unwrap();
    let other = disk.path().join("b.jigtrue");
    assert_eq!(create(&other).unwrap_err().fault, Fault::Full);
    assert!(!other.exists(), "a log that could not be opened leaves nothing");
    fs::remove_file(filler).unwrap();
    create(&other).unwrap();
}

#[test]
fn a_disk_that_becomes_read_only() {
    let Some(disk) = SmallDisk::mount(1024) else { return };
    let log = disk.path().join("a.jigtrue");
    let mut journal = create(&log).unwrap();
    append(&mut journal, 0).unwrap();
    drop(journal);
    disk.set_read_only(true);
    let error = Journal::open(&log).unwrap_err();
    assert_eq!(error.fault, Fault::ReadOnly);
    let journal = Journal::open_read_only(&log).unwrap();
    assert_eq!(journal.verify().unwrap().seq, 2);
    assert_eq!(create(&disk.path().join("b.jigtrue")).unwrap_err().fault, Fault::ReadOnly);
    drop(journal);
    disk.set_read_only(false);
    append(&mut Journal::open(&log).unwrap(), 1).unwrap();
}

/// The newest entries are beside the log and cannot be merged: the program says so instead of showing an older state.
#[test]
fn a_read_only_copy_of_a_log_that_was_killed() {
    let Some(disk) = SmallDisk::mount(1024) else { return };
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("a.jigtrue");
    create(&log).unwrap();
    let mut writer = Command::new(env!("CARGO_BIN_EXE_journal-writer"));
    let lines =
        stories::crash::killed(writer.arg(&log).args(["ann", "0", "1000000"]), std::time::Duration::ZERO);
    let there = disk.path().join("a.jigtrue");
    fs::copy(&log, &there).unwrap();
    fs::copy(wal::beside(&log), wal::beside(&there)).unwrap();
    disk.set_read_only(true);
    let error = Journal::open_read_only(&there).unwrap_err();
    assert_eq!(error.fault, Fault::Unmerged);
    disk.set_read_only(false);
    let found = Journal::open_read_only(&there).unwrap().verify().unwrap().seq;
    assert!(found > lines.len() as u64, "{found} entries of at least {}", lines.len() + 1);
}

/// As a user without rights if root runs the tests; as oneself otherwise.
fn as_nobody(arguments: &[&str]) -> Option<std::process::Output> {
    let root = Command::new("id").arg("-u").output().is_ok_and(|out| out.stdout == b"0\n");
    let mut command = if root {
        let mut command = Command::new("setpriv");
        command.args(["--reuid=65534", "--regid=65534", "--clear-groups", "--"]).arg(arguments[0]);
        command
    } else {
        Command::new(arguments[0])
    };
    let out = command.args(&arguments[1..]).output().ok();
    if out.is_none() {
        skip("becoming another user");
    }
    out
}

#[test]
fn permissions_gone() {
    let folder = tempfile::tempdir().unwrap();
    let program = folder.path().join("journal-writer");
    fs::copy(env!("CARGO_BIN_EXE_journal-writer"), &program).unwrap();
    let log = folder.path().join("a.jigtrue");
    create(&log).unwrap();
    let before = fs::read(&log).unwrap();
    let mode = |path: &Path, mode| fs::set_permissions(path, Permissions::from_mode(mode)).unwrap();
    for (folder_mode, log_mode, words) in
        [(0o555, 0o444, "cannot be written"), (0o555, 0o666, ""), (0o777, 0o000, "no permission")]
    {
        mode(&log, log_mode);
        mode(folder.path(), folder_mode);
        let out = as_nobody(&[program.to_str().unwrap(), log.to_str().unwrap(), "ann", "0", "1"]);
        mode(folder.path(), 0o777);
        mode(&log, 0o644);
        let Some(out) = out else { return };
        let said = String::from_utf8_lossy(&out.stderr).into_owned();
        assert!(!out.status.success(), "{folder_mode:o} {log_mode:o}");
        assert!(out.stdout.is_empty(), "nothing is acknowledged");
        assert!(said.contains("a.jigtrue") && said.contains(words), "{folder_mode:o} {log_mode:o}: {said}");
        assert_eq!(fs::read(&log).unwrap(), before);
    }
    assert_eq!(Journal::open(&log).unwrap().verify().unwrap().seq, 1);
}

fn open_log() -> (tempfile::TempDir, PathBuf, Journal) {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("a.jigtrue");
    let mut journal = create(&log).unwrap();
    append(&mut journal, 0).unwrap();
    (folder, log, journal)
}

fn assert_replaced(journal: &mut Journal) {
    let error = append(journal, 1).unwrap_err();
    assert_eq!(error.fault, Fault::Replaced);
    assert!(error.to_string().contains("not in it"), "{error}");
    let many = [Ok::<_, JournalError>(NewEntry::new(moment(1), "ann", reading(1)))];
    assert_eq!(journal.append_many(many.clone()).unwrap_err().fault, Fault::Replaced);
    assert_eq!(journal.append_long(many).unwrap_err().fault, Fault::Replaced);
}

#[test]
fn deleted_while_open() {
    let (_folder, log, mut journal) = open_log();
    fs::remove_file(&log).unwrap();
    assert_replaced(&mut journal);
}

#[test]
fn replaced_while_open() {
    let (folder, log, mut journal) = open_log();
    let other = folder.path().join("b.jigtrue");
    create(&other).unwrap();
    fs::rename(&other, &log).unwrap();
    assert_replaced(&mut journal);
}

#[test]
fn moved_away_and_back_while_open() {
    let (folder, log, mut journal) = open_log();
    let elsewhere = folder.path().join("elsewhere");
    fs::rename(&log, &elsewhere).unwrap();
    assert_replaced(&mut journal);
    fs::rename(&elsewhere, &log).unwrap();
    append(&mut journal, 1).unwrap();
    assert_eq!(journal.verify().unwrap().seq, 3);
}

/// Each name would have a part of its own beside it: an entry acknowledged under one was lost under the other.
#[test]
fn a_log_with_two_names_is_only_read() {
    let (folder, log, journal) = open_log();
    drop(journal);
    let other = folder.path().join("b.jigtrue");
    fs::hard_link(&log, &other).unwrap();
    for name in [&log, &other] {
        assert_eq!(Journal::open(name).unwrap_err().fault, Fault::SecondName);
        assert_eq!(Journal::open_read_only(name).unwrap().verify().unwrap().seq, 2);
    }
    fs::remove_file(&other).unwrap();
    // What a killed backup leaves is not in the way.
    fs::hard_link(&log, folder.path().join(".jigtrue-part-1-1")).unwrap();
    append(&mut Journal::open(&log).unwrap(), 1).unwrap();
}

/// Moved or copied by itself while it is open, the log has every merged entry, however it goes on; what stays behind
/// has none.
#[test]
fn the_log_alone_is_whole_while_it_is_open() {
    let (folder, log, mut journal) = open_log();
    let copy = folder.path().join("copy.jigtrue");
    for n in 1..40 {
        append(&mut journal, n).unwrap();
        journal.merge();
        fs::copy(&log, &copy).unwrap();
        assert_eq!(Journal::open_read_only(&copy).unwrap().verify().unwrap().seq, n + 2);
    }
    let many = (0..600).map(|n| Ok::<_, JournalError>(NewEntry::new(moment(n), "ann", reading(n))));
    journal.append_many(many.clone()).unwrap();
    journal.merge();
    fs::copy(&log, &copy).unwrap();
    assert_eq!(Journal::open_read_only(&copy).unwrap().verify().unwrap().seq, 641);
    assert_eq!(journal.append_long(many).unwrap().seq, 1241);
    append(&mut journal, 40).unwrap();
    journal.merge();
    let elsewhere = folder.path().join("elsewhere.jigtrue");
    fs::rename(&log, &elsewhere).unwrap();
    // As a program that is killed leaves it.
    std::mem::forget(journal);
    assert_eq!(Journal::open(&elsewhere).unwrap().verify().unwrap().seq, 1242);
    assert_eq!(fs::metadata(wal::beside(&log)).unwrap().len(), 0);
    assert_eq!(Journal::open(&log).unwrap_err().fault, Fault::Missing);
}

/// While another program reads it, entries wait beside the log; the next merging, or the last program to close it,
/// brings them in. If the log was moved away from them, whoever opens the old name is told.
#[test]
fn what_waits_beside_the_log_is_named_and_brought_in_later() {
    let (folder, log, mut journal) = open_log();
    let other = wal::looked_at(&log);
    append(&mut journal, 1).unwrap();
    journal.merge();
    assert!(fs::metadata(wal::beside(&log)).unwrap().len() > 0);
    let elsewhere = folder.path().join("elsewhere");
    fs::rename(&log, &elsewhere).unwrap();
    let error = Journal::open(&log).unwrap_err();
    assert_eq!(error.fault, Fault::PartAlone(wal::beside(&log)));
    assert_eq!(Journal::open_read_only(&log).unwrap_err().fault, error.fault);
    assert!(error.to_string().contains("a.jigtrue-wal"), "{error}");
    fs::rename(&elsewhere, &log).unwrap();
    drop(other);
    append(&mut journal, 2).unwrap();
    journal.merge();
    assert_eq!(fs::metadata(wal::beside(&log)).unwrap().len(), 0);
}

#[test]
fn the_part_beside_it_deleted_while_open() {
    let (_folder, log, mut journal) = open_log();
    fs::remove_file(wal::beside(&log)).unwrap();
    assert_replaced(&mut journal);
}

/// The part beside the log stays small however long it is open.
#[test]
fn the_part_beside_it_does_not_grow_without_end() {
    let (_folder, log, mut journal) = open_log();
    let size = |_: &Journal| fs::metadata(wal::beside(&log)).unwrap().len();
    let mut most = 0;
    for n in 1..3000 {
        append(&mut journal, n).unwrap();
        most = most.max(size(&journal));
    }
    assert!(most < 8 << 20, "{most} bytes");
    let many = (0..200_000).map(|n| Ok::<_, JournalError>(NewEntry::new(moment(n), "ann", reading(n))));
    journal.append_many(many).unwrap();
    append(&mut journal, 0).unwrap();
    assert!(size(&journal) <= 8 << 20, "{} bytes after a long import", size(&journal));
}
