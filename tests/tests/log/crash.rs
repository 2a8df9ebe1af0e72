//! Killed at any instant, no acknowledged entry is missing, and the log opens again without a repair step.
//!
//! Long: `./test --long --test log crash`.

use journal::Journal;
use record::At;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::Duration;
use stories::crash::killed;
use stories::invented::{PLAN, reading};
use stories::seeded::Draws;
use stories::wal;

fn writer(log: &Path, first: u64, count: u64) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_journal-writer"));
    command.arg(log).arg("ann").arg(first.to_string()).arg(count.to_string());
    command
}

fn new_log(log: &Path) {
    Journal::create(log, PLAN, "stories", At::from_millis(0), "ann").unwrap();
}

/// Kills the writer again and again, each time on the log that the last one left.
fn kill_the_writer(times: u64) {
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap();
    let log = folder.path().join("a.jigtrue");
    new_log(&log);
    let mut draws = Draws::new(8);
    let (mut last, mut unacknowledged) = (1, 0);
    for round in 0..times {
        // A second writer killed during the first one's recovery is the same story; so is one killed at once.
        let delay = Duration::from_micros(draws.below(20_000));
        let lines = killed(&mut writer(&log, last, u64::MAX / 2), delay);
        let acknowledged: Vec<(u64, u64)> = lines
            .iter()
            .map(|line| line.split_once(' ').unwrap())
            .map(|(seq, n)| (seq.parse().unwrap(), n.parse().unwrap()))
            .collect();
        // Opening is enough, even for reading only.
        let journal = Journal::open_read_only(&log).unwrap();
        let entries: Vec<_> = journal.entries_since(last).map(Result::unwrap).collect();
        let extra = entries.len() - acknowledged.len();
        assert!(extra <= 1, "round {round}: {extra} entries that nobody acknowledged");
        unacknowledged += extra;
        for (entry, (seq, n)) in entries.iter().zip(&acknowledged) {
            assert_eq!((entry.seq, &entry.what), (*seq, &reading(*n)), "round {round}");
        }
        last += entries.len() as u64;
        if round % 50 == 0 || round + 1 == times {
            assert_eq!(journal.verify().unwrap().seq, last);
        }
    }
    println!("killed {times} times: {last} entries, {unacknowledged} of them written but not acknowledged");
}

#[test]
fn killed_at_random() {
    kill_the_writer(30);
}

#[test]
#[ignore = "long"]
fn killed_at_random_a_thousand_times() {
    kill_the_writer(1000);
}

#[test]
fn killed_while_importing() {
    kill_the_importer(&[]);
}

/// Without the write-ahead log: then another file lies beside the log.
#[test]
fn killed_while_importing_alone() {
    kill_the_importer(&["long"]);
}

/// A long import is there whole or not at all, and the guards removed for it are back.
fn kill_the_importer(how: &[&str]) {
    const TOGETHER: u64 = 4000;
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap();
    let log = folder.path().join("a.jigtrue");
    new_log(&log);
    let mut draws = Draws::new(9);
    let mut imported = 0;
    for round in 0..12 {
        let mut importer = writer(&log, imported, u64::MAX / 2);
        importer.arg(TOGETHER.to_string()).args(how);
        let lines = killed(&mut importer, Duration::from_micros(draws.below(60_000)));
        let journal = Journal::open(&log).unwrap();
        let entries = journal.verify().unwrap().seq - 1;
        assert_eq!(entries % TOGETHER, 0, "round {round}: {entries} entries");
        let new = (entries - imported) / TOGETHER;
        assert!(new == lines.len() as u64 || new == lines.len() as u64 + 1, "round {round}: {new} imports");
        imported = entries;
    }
}

/// What stands in place of the rest of the file.
#[derive(Clone, Copy, Debug)]
enum Rest {
    /// The file ends there.
    Nothing,
    /// The file system had grown the file but not yet filled it.
    Zeros,
    /// Old bytes of the disk.
    Noise,
}

/// Cuts the WAL of a killed writer at bytes of its last `frames` frames, `step` apart.
fn cut_the_wal(frames: usize, step: usize) {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("a.jigtrue");
    new_log(&log);
    killed(&mut writer(&log, 0, u64::MAX / 2), Duration::from_millis(20));
    let (database, whole) = (fs::read(&log).unwrap(), fs::read(wal::beside(&log)).unwrap());
    let commits = wal::commit_ends(&whole);
    let end = *commits.last().unwrap();
    let start = end.saturating_sub(frames * wal::frame_bytes(&whole));
    let copy = folder.path().join("b.jigtrue");
    let mut draws = Draws::new(12);
    let mut cuts = 0;
    for cut in (start..=end).step_by(step) {
        for rest in [Rest::Nothing, Rest::Zeros, Rest::Noise] {
            let mut bytes = whole[..cut].to_vec();
            match rest {
                Rest::Nothing => {}
                Rest::Zeros => bytes.resize(whole.len(), 0),
                Rest::Noise => bytes.extend((cut..whole.len()).map(|_| draws.bits().to_le_bytes()[0])),
            }
            fs::write(&copy, &database).unwrap();
            fs::write(wal::beside(&copy), &bytes).unwrap();
            let journal =
                Journal::open(&copy).unwrap_or_else(|e| unreachable!("cut at {cut}, then {rest:?}: {e}"));
            let expected = 1 + commits.iter().filter(|end| **end <= cut).count() as u64;
            assert_eq!(journal.verify().unwrap().seq, expected, "cut at {cut}, then {rest:?}");
            let found = journal.entries().skip(1).map(|e| e.unwrap().what);
            assert!(found.eq((0..expected - 1).map(reading)), "cut at {cut}, then {rest:?}");
            cuts += 1;
        }
    }
    println!("cut {cuts} times, at bytes {start} to {end} of {}", whole.len());
}

#[test]
fn the_wal_cut_at_bytes_of_its_last_frames() {
    // 101 is prime to the size of a frame and of a page: headers, bodies and boundaries all get their turn.
    cut_the_wal(6, 101);
}

#[test]
#[ignore = "long"]
fn the_wal_cut_at_every_byte_of_its_last_frames() {
    cut_the_wal(6, 1);
}
