//! Starting and opening, and what is refused.
#![expect(clippy::unwrap_used, reason = "a test stops where something fails")]
#![expect(clippy::disallowed_methods, reason = "only files that nobody has open are read")]

use crate::support::{PLAN, at, stage, start};
use journal::{Fault, Journal, JournalError, NewEntry, NotALog};
use rusqlite::Connection;
use std::fs;
use std::path::Path;

fn create(path: &Path) -> Result<Journal, JournalError> {
    Journal::create(path, PLAN, "jigtrue 0.1.0", at(0), "ann")
}

/// Both ways of opening refuse, with the path in the message, and leave the file unchanged.
fn refused(path: &Path, expected: fn(&Fault) -> bool) {
    let before = fs::read(path).ok();
    for error in [Journal::open(path).unwrap_err(), Journal::open_read_only(path).unwrap_err()] {
        assert!(expected(&error.fault), "{error:?}");
        assert!(error.to_string().contains(path.to_str().unwrap()), "{error}");
    }
    assert_eq!(fs::read(path).ok(), before);
}

#[test]
fn a_new_log_is_one_file_when_closed() {
    let folder = tempfile::tempdir().unwrap();
    let (path, mut journal) = start(folder.path());
    journal.append(at(1), "ann", &stage("a")).unwrap();
    drop(journal);
    drop(Journal::open_read_only(&path).unwrap());
    let names: Vec<_> = fs::read_dir(folder.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert_eq!(names, ["a.jigtrue"]);
}

#[test]
fn create_refuses_an_existing_file() {
    let folder = tempfile::tempdir().unwrap();
    let (path, journal) = start(folder.path());
    let head = journal.head().unwrap();
    assert_eq!(create(&path).unwrap_err().fault, Fault::Exists);
    assert_eq!(Journal::open(&path).unwrap().head().unwrap(), head);
    let text = folder.path().join("text");
    fs::write(&text, "mine").unwrap();
    assert_eq!(create(&text).unwrap_err().fault, Fault::Exists);
    assert_eq!(fs::read(&text).unwrap(), b"mine");
    assert_eq!(create(folder.path()).unwrap_err().fault, Fault::Exists);
    let nowhere = create(&folder.path().join("no such folder/a.jigtrue")).unwrap_err();
    assert!(nowhere.to_string().contains("no folder"), "{nowhere}");
}

#[test]
fn an_interrupted_start_does_not_block_the_name() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.jigtrue");
    fs::write(&path, "").unwrap();
    refused(&path, |fault| matches!(fault, Fault::NotALog(NotALog::Empty)));
    assert_eq!(create(&path).unwrap().verify().unwrap().seq, 1);
}

#[test]
fn create_does_not_overwrite_the_rest_of_an_older_log() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.jigtrue-wal"), "readings").unwrap();
    assert_eq!(create(&folder.path().join("a.jigtrue")).unwrap_err().fault, Fault::Leftover);
}

#[test]
fn a_file_that_is_not_a_log_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a");
    refused(&path, |fault| *fault == Fault::Missing);
    refused(folder.path(), |fault| matches!(fault, Fault::NotALog(NotALog::Folder)));
    for content in [&b"a short note"[..], &[0x5a; 100_000], b"SQLite format 3\0", &[0; 4096]] {
        fs::write(&path, content).unwrap();
        refused(&path, |fault| matches!(fault, Fault::NotALog(_) | Fault::Damaged(_)));
    }
    let other = folder.path().join("other.db");
    let conn = Connection::open(&other).unwrap();
    conn.execute_batch("PRAGMA journal_mode = wal; CREATE TABLE entry(seq); INSERT INTO entry VALUES (1)")
        .unwrap();
    drop(conn);
    refused(&other, |fault| matches!(fault, Fault::NotALog(NotALog::Foreign)));
    assert!(!folder.path().join("other.db-wal").exists());
}

#[test]
fn a_newer_format_is_refused_with_a_message() {
    let folder = tempfile::tempdir().unwrap();
    let (path, journal) = start(folder.path());
    drop(journal);
    Connection::open(&path).unwrap().pragma_update(None, "user_version", 7).unwrap();
    refused(&path, |fault| *fault == Fault::Newer(7));
    let words = Journal::open(&path).unwrap_err().to_string();
    assert!(words.contains("format 7") && words.contains("newer jigtrue"), "{words}");
    Connection::open(&path).unwrap().pragma_update(None, "user_version", 0).unwrap();
    refused(&path, |fault| matches!(fault, Fault::Damaged(_)));
}

#[test]
fn a_log_cut_short_is_refused_or_reported_broken() {
    let folder = tempfile::tempdir().unwrap();
    let (path, mut journal) = start(folder.path());
    let many = (0..200).map(|_| Ok::<_, JournalError>(NewEntry::new(at(1), "ann", stage("a"))));
    journal.append_many(many).unwrap();
    drop(journal);
    let whole = fs::read(&path).unwrap();
    for length in [1, 99, 100, 511, 512, 4095, 4096, 8192, whole.len() - 4096, whole.len() - 1] {
        fs::write(&path, &whole[..length]).unwrap();
        let verdict = Journal::open(&path).and_then(|journal| journal.verify());
        let error = verdict.unwrap_err();
        assert!(
            matches!(error.fault, Fault::Damaged(_) | Fault::NotALog(_) | Fault::Broken(_)),
            "{length}: {error:?}"
        );
    }
}

#[test]
fn reading_only_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (path, journal) = start(folder.path());
    drop(journal);
    let mut journal = Journal::open_read_only(&path).unwrap();
    assert!(!journal.is_writable());
    assert_eq!(journal.append(at(1), "ann", &stage("a")).unwrap_err().fault, Fault::ReadOnly);
    let none: [Result<_, JournalError>; 1] = [Ok(NewEntry::new(at(1), "ann", stage("a")))];
    assert_eq!(journal.append_many(none).unwrap_err().fault, Fault::ReadOnly);
    assert_eq!(journal.verify().unwrap().seq, 1);
}

/// A name that SQLite would take for a URI, and one with every awkward character.
#[test]
fn awkward_names_are_plain_file_names() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["file:a?mode=memory", "50% of Ünï 'quoted' #1?.jigtrue", ":memory:"] {
        let path = folder.path().join(name);
        let mut journal = create(&path).unwrap();
        journal.append(at(1), "ann", &stage("a")).unwrap();
        drop(journal);
        assert!(path.is_file());
        assert_eq!(Journal::open_read_only(&path).unwrap().verify().unwrap().seq, 2);
    }
}

#[test]
fn a_backup_is_whole_and_never_overwrites() {
    let folder = tempfile::tempdir().unwrap();
    let (_, mut journal) = start(folder.path());
    journal.append(at(1), "ann", &stage("a")).unwrap();
    let copy = folder.path().join("copy of ann's.jigtrue");
    journal.backup_to(&copy).unwrap();
    assert_eq!(journal.backup_to(&copy).unwrap_err().fault, Fault::Exists);
    journal.append(at(2), "ann", &stage("b")).unwrap();
    let mut copied = Journal::open(&copy).unwrap();
    assert_eq!(copied.verify().unwrap().seq, 2);
    assert_eq!(copied.append(at(2), "ann", &stage("b")).unwrap(), journal.head().unwrap());
    assert_eq!(fs::metadata(folder.path().join("copy of ann's.jigtrue.part")).ok().map(|m| m.len()), None);
}
