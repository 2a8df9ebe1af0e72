//! What the log costs, each time as a ratio against something everyone knows, measured in the same run.
//! Long: `cargo test --release -p stories --test journal_speed -- --ignored --nocapture --test-threads=1`.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a story stops where something fails")]

use journal::Journal;
use quantity::Kind;
use record::{At, Facing, Reading, Source, What};
use std::error::Error;
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};
use stories::invented::{PLAN, moment, reading};

fn time<T>(work: impl FnOnce() -> T) -> (Duration, T) {
    let start = Instant::now();
    let done = work();
    (start.elapsed(), done)
}

fn median(times: &mut [Duration]) -> Duration {
    times.sort_unstable();
    times[times.len() / 2]
}

fn new_log(path: &Path) -> Journal {
    Journal::create(path, PLAN, "stories", At::from_millis(0), "the story").unwrap()
}

/// A folder on the same disk as the build, since the usual place for temporary files may be in memory.
fn folder() -> tempfile::TempDir {
    tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap()
}

#[test]
#[ignore = "long"]
fn an_append_against_a_hundred_bytes_and_fdatasync() {
    let folder = folder();
    let mut journal = new_log(&folder.path().join("a.jigtrue"));
    let mut plain = File::options().append(true).create(true).open(folder.path().join("plain")).unwrap();
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    // Turn about, so that a busy moment of the machine meets both.
    for n in 0..3000 {
        let what = reading(n);
        ours.push(time(|| journal.append(moment(n), "ann", &what).unwrap()).0);
        theirs.push(
            time(|| {
                plain.write_all(&[b'x'; 100]).unwrap();
                plain.sync_data().unwrap();
            })
            .0,
        );
    }
    let mean = |times: &[Duration]| times.iter().sum::<Duration>().as_secs_f64() / times.len() as f64;
    let means = mean(&ours) / mean(&theirs);
    let (ours, theirs) = (median(&mut ours), median(&mut theirs));
    let ratio = ours.as_secs_f64() / theirs.as_secs_f64();
    println!("append {ours:?} against append+fdatasync {theirs:?}: medians {ratio:.2}, means {means:.2}");
    assert!(ratio <= 1.5, "the median append costs {ratio:.2} times");
}

const MILLION: u64 = 1_000_000;

/// A table as people keep it: time, point, value, facing, round, instrument.
fn write_table(path: &Path, rows: u64) -> Result<(), Box<dyn Error>> {
    let mut table = BufWriter::new(File::create(path)?);
    writeln!(table, "time_ms,point,angle_deg,facing,round,instrument")?;
    for n in 0..rows {
        if let What::Reading(r) = reading(n) {
            let facing = r.facing.map_or("", Facing::word);
            let time = moment(n).millis();
            writeln!(table, "{time},{},{},{facing},{},level-1", r.point, r.text, r.round)?;
        }
    }
    Ok(table.into_inner()?.sync_all()?)
}

fn from_table(row: &csv::StringRecord) -> Result<(At, &'static str, What), Box<dyn Error>> {
    let what = What::Reading(Reading {
        point: row[1].parse().map_err(|_| "no point")?,
        text: row[2].to_owned(),
        quantity: Kind::Angle,
        value: row[2].parse()?,
        resolution: 0.01,
        facing: Some(if &row[3] == "forward" { Facing::Forward } else { Facing::Aft }),
        instrument: Some(row[5].to_owned()),
        temperature: None,
        round: row[4].parse()?,
        scatter: None,
        samples: None,
        unsettled: false,
        source: Source::Imported,
        note: None,
    });
    Ok((At::from_millis(row[0].parse()?), "ann", what))
}

fn import(journal: &mut Journal, table: &Path) -> Result<u64, Box<dyn Error>> {
    let mut rows = csv::Reader::from_path(table)?;
    let head = journal.append_many(rows.records().map(|row| from_table(&row?)))?;
    Ok(head.seq)
}

fn sqlite(database: &Path, commands: &[&str]) -> String {
    let out = Command::new("sqlite3").arg(database).args(commands).output();
    let out = out.unwrap_or_else(|e| panic!("the rival, sqlite3 (Debian: apt-get install sqlite3): {e}"));
    assert!(out.status.success(), "{out:?}");
    String::from_utf8_lossy(&out.stdout).into_owned()
}

/// The most memory this process has had, in KiB (Linux).
fn most_memory_kib() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    line.and_then(|l| l.trim().trim_end_matches(" kB").parse().ok()).unwrap_or(0)
}

#[test]
#[ignore = "long"]
fn a_million_entries() {
    let folder = folder();
    let (log, table) = (folder.path().join("a.jigtrue"), folder.path().join("readings.csv"));
    write_table(&table, MILLION).unwrap();

    let rival = folder.path().join("rival.db");
    let import_command = format!(".import '{}' reading", table.display());
    let (theirs, _) = time(|| sqlite(&rival, &[".mode csv", &import_command]));
    let mut journal = new_log(&log);
    let before = most_memory_kib();
    let (ours, last) = time(|| import(&mut journal, &table).unwrap());
    assert_eq!(last, MILLION + 1);
    let grown = most_memory_kib() - before;
    let importing = ours.as_secs_f64() / theirs.as_secs_f64();
    println!(
        "import {ours:?} against sqlite3 .import {theirs:?}: {importing:.2}; memory grew by {grown} KiB"
    );
    println!("log {} MB", std::fs::metadata(&log).unwrap().len() >> 20);

    journal.append(moment(MILLION), "ann", &reading(MILLION)).unwrap();
    let (one, _) =
        time(|| journal.append(moment(MILLION), "ann", &What::Stage { name: "ribs inboard".to_owned() }));
    let (stage, found) = time(|| journal.latest_of_kind("stage").unwrap());
    assert!(found.is_some());
    let (none, found) = time(|| journal.latest_of_kind("move").unwrap());
    assert!(found.is_none());
    let (round, found) = time(|| journal.latest_of_kind("reading").unwrap());
    assert!(found.is_some());
    println!("append {one:?}; last stage {stage:?}; no move {none:?}; last reading {round:?}");
    drop(journal);
    let (opening, journal) = time(|| Journal::open(&log).unwrap());
    println!("open {opening:?}");

    // The same bytes as text, for sha256sum.
    let bytes = folder.path().join("bytes");
    sqlite(
        &log,
        &[&format!(".output '{}'", bytes.display()), "SELECT seq, at, \"by\", kind, body, hash FROM entry"],
    );
    let (scan, _) = time(|| sqlite(&log, &["SELECT sum(length(body)) FROM entry"]));
    let (summing, out) = time(|| Command::new("sha256sum").arg(&bytes).output().unwrap());
    assert!(out.status.success());
    let (verifying, head) = time(|| journal.verify().unwrap());
    assert_eq!(head.seq, MILLION + 3);
    let ratio = verifying.as_secs_f64() / (scan + summing).as_secs_f64();
    println!("verify {verifying:?} against sha256sum {summing:?} + scan {scan:?}: {ratio:.2}");
    let (reading_all, entries) = time(|| journal.entries().inspect(|e| assert!(e.is_ok())).count());
    println!("reading all, checked: {reading_all:?} for {entries}");
    assert!(grown < 64 << 10, "memory grew by {grown} KiB");
    // Twice the work of the rival at least: it neither reads what it imports nor makes a chain of it.
    assert!(importing <= 2.5, "importing costs {importing:.2} times");
    assert!(ratio <= 2.0, "verifying costs {ratio:.2} times");
}
