//! Several programs at once.

use journal::{Fault, Journal, JournalError};
use record::{At, Facing, What};
use session::{BeginStage, Session, SessionError, Take, Taken, TypedMove};
use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};
use stories::invented::{PLAN, moment, reading};

fn new_log(log: &Path) -> Journal {
    Journal::create(log, PLAN, "stories", At::from_millis(0), "ann").unwrap()
}

/// 10,000 entries from four programs: none lost, none twice, the chain whole, each program's own in order.
#[test]
fn four_programs_write_ten_thousand_entries() {
    const EACH: u64 = 2500;
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap();
    let log = folder.path().join("a.jigtrue");
    let watching = new_log(&log);
    let people = ["ann", "bob", "cleo", "dov"];
    let writers: Vec<_> = people
        .iter()
        .map(|who| {
            let mut writer = Command::new(env!("CARGO_BIN_EXE_journal-writer"));
            writer.arg(&log).arg(who).arg("0").arg(EACH.to_string()).stdout(Stdio::piped()).spawn().unwrap()
        })
        .collect();
    // A reader sees it grow, in order.
    let mut seen = 1;
    let mut acknowledged = BTreeMap::new();
    for (who, writer) in people.iter().zip(writers) {
        seen += watching.entries_since(seen).map(Result::unwrap).fold(0, |n, _| n + 1);
        let out = writer.wait_with_output().unwrap();
        assert!(out.status.success(), "{who}");
        for line in String::from_utf8(out.stdout).unwrap().lines() {
            let (seq, n) = line.split_once(' ').unwrap();
            assert!(
                acknowledged.insert(seq.parse::<u64>().unwrap(), (*who, n.parse::<u64>().unwrap())).is_none()
            );
        }
    }
    assert_eq!(acknowledged.len() as u64, 4 * EACH);
    assert_eq!(watching.verify().unwrap().seq, 4 * EACH + 1);
    let mut next = BTreeMap::new();
    for entry in watching.entries().skip(1).map(Result::unwrap) {
        let (who, n) = acknowledged[&entry.seq];
        assert_eq!((entry.by.as_str(), &entry.what), (who, &reading(n)));
        let expected = next.entry(who).or_insert(0);
        assert_eq!(n, *expected);
        *expected += 1;
    }
    seen += watching.entries_since(seen).count() as u64;
    assert_eq!(seen, 4 * EACH + 1);
}

/// A backup taken while another program writes is a whole log, of some moment.
#[test]
fn a_backup_while_it_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("a.jigtrue");
    let journal = new_log(&log);
    let mut writer = Command::new(env!("CARGO_BIN_EXE_journal-writer"));
    let mut writer = writer.arg(&log).args(["bob", "0", "2000"]).stdout(Stdio::null()).spawn().unwrap();
    let mut lengths = Vec::new();
    while writer.try_wait().unwrap().is_none() {
        let copy = folder.path().join(format!("copy-{}.jigtrue", lengths.len()));
        journal.backup_to(&copy).unwrap();
        lengths.push(Journal::open(&copy).unwrap().verify().unwrap().seq);
    }
    assert!(writer.wait().unwrap().success());
    assert!(lengths.is_sorted() && !lengths.is_empty(), "{lengths:?}");
    assert_eq!(journal.verify().unwrap().seq, 2001);
}

/// SQLite's own program can copy it too, if it is installed.
#[test]
fn a_backup_by_another_tool() {
    let folder = tempfile::tempdir().unwrap();
    let (log, copy) = (folder.path().join("a.jigtrue"), folder.path().join("copy.jigtrue"));
    let mut journal = new_log(&log);
    journal.append(moment(1), "ann", &reading(1)).unwrap();
    let conn = rusqlite::Connection::open(&log).unwrap();
    let backup = |to: &Path| -> rusqlite::Result<()> {
        let mut to = rusqlite::Connection::open(to)?;
        rusqlite::backup::Backup::new(&conn, &mut to)?.run_to_completion(1, std::time::Duration::ZERO, None)
    };
    backup(&copy).unwrap();
    journal.append(moment(2), "ann", &reading(2)).unwrap();
    assert_eq!(Journal::open(&copy).unwrap().verify().unwrap().seq, 2);
    assert_eq!(journal.verify().unwrap().seq, 3);
}

/// A program that never releases the log: after ten seconds the other says so, and has written nothing.
#[test]
fn held_too_long() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("a.jigtrue");
    let mut journal = new_log(&log);
    let mut other = rusqlite::Connection::open(&log).unwrap();
    let held = other.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate).unwrap();
    let error = journal.append(moment(1), "ann", &reading(1)).unwrap_err();
    assert_eq!(error.fault, Fault::Busy);
    // Reading goes on meanwhile.
    assert_eq!(journal.verify().unwrap().seq, 1);
    drop(held);
    assert_eq!(journal.append(moment(1), "ann", &reading(1)).unwrap().seq, 2);
}

/// Three programs that start the same log at once: one does, the others are told that it exists.
#[test]
fn three_programs_start_the_same_log() {
    let folder = tempfile::tempdir().unwrap();
    for n in 0..60 {
        let log = folder.path().join(format!("{n}.jigtrue"));
        let start = || Journal::create(&log, PLAN, "stories", At::from_millis(0), "ann");
        let results: Vec<Result<Journal, JournalError>> = std::thread::scope(|scope| {
            let threads: Vec<_> = (0..3).map(|_| scope.spawn(start)).collect();
            threads.into_iter().map(|t| t.join().unwrap()).collect()
        });
        assert_eq!(results.iter().filter(|r| r.is_ok()).count(), 1, "{results:?}");
        let told = results.iter().filter(|r| r.as_ref().is_err_and(|e| e.fault == Fault::Exists)).count();
        assert_eq!(told, 2, "{results:?}");
        let journal = Journal::open(&log).unwrap();
        let starts =
            journal.entries().filter(|e| matches!(e.as_ref().unwrap().what, What::Started { .. })).count();
        assert_eq!((starts, journal.verify().unwrap().seq), (1, 1));
    }
}

const TORQUED: &str = r#"
format = 1
[wing]
name = "invented"
side = "left"
[[station]]
name = "S1"
span = 0
chord = 1000
incidence = 1
[[station]]
name = "S2"
span = 1000
chord = 1000
incidence = 1
[[post]]
name = "post"
span = 0
foot = [{ name = "foot", aft = 0, out = 100, travel = 10, shims = [1.0] }]
[[spot]]
name = "bolt"
quantity = "torque"
lower = 8
upper = 12
[[instrument]]
name = "level"
kind = "inclinometer"
resolution = 0.05
[[instrument]]
name = "wrench"
kind = "torque-wrench"
resolution = 0.1
accuracy = 0.1
[[stage]]
name = "first"
requires = ["spot@bolt"]
[[stage]]
name = "second"
requires = ["spot@bolt"]
"#;

/// What another program did since a log was opened counts for the next step: a move ends the round, a bad reading
/// keeps the next stage from beginning, and nothing is withdrawn twice.
#[test]
fn what_another_program_did_counts_for_the_next_step() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("wing.jigtrue");
    let plan = folder.path().join("wing.toml");
    std::fs::write(&plan, TORQUED).unwrap();
    let mut one = Session::create(&plan, &log, Some("ann")).unwrap();
    one.stage(&BeginStage::named("first")).unwrap();
    let other = || {
        let mut session = Session::open(&log).unwrap();
        session.set_who("bob");
        session
    };
    let take = |text: &str, facing| Take {
        point: "level@post".to_owned(),
        text: text.to_owned(),
        facing: Some(facing),
        ..Take::default()
    };
    let round = |taken: Taken| match taken.entry.what {
        What::Reading(reading) => reading.round,
        _ => 0,
    };
    assert_eq!(round(one.take(take("0.05", Facing::Forward)).unwrap()), 1);
    other().record_move(&TypedMove::new("foot", "1 mm")).unwrap();
    assert_eq!(round(one.take(take("0.05", Facing::Forward)).unwrap()), 2, "the move began a new round");
    let seq = one.take(take("0.05", Facing::Aft)).unwrap().entry.seq;
    other().withdraw(seq, "on a rivet head").unwrap();
    one.withdraw(seq, "on a rivet head").unwrap_err();
    let bolt = |text: &str| Take { point: "spot@bolt".to_owned(), text: text.to_owned(), ..Take::default() };
    one.take(bolt("10")).unwrap();
    other().take(bolt("7.5")).unwrap();
    let refused = one.stage(&BeginStage::named("second")).unwrap_err();
    assert!(matches!(refused, SessionError::Unmet(_)), "{refused}");
}
