//! The real program killed at any instant: what it acknowledged is in the log, in order, and the chain is whole.
//!
//! Long: `./test --long --test cli kill`.
#![cfg(unix)]

use crate::program::{Bench, SMALL_PLAN};
use journal::Journal;
use record::{Entry, Source, What};
use std::io::Read;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use stories::seeded::Draws;

fn begun() -> Bench {
    // A display so fine that no two values are alike and the station may have each of them.
    let bench = Bench::with_plan(&SMALL_PLAN.replace("resolution = 0.05", "resolution = 0.0001"));
    bench.line("stage wing.jigtrue \"ribs on\"").expect(0);
    bench
}

/// How long the program takes when nobody kills it: the median of five runs.
fn usual(mut run: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..5)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed()
        })
        .collect();
    times.sort_unstable();
    times[2]
}

/// Starts the program and kills it (SIGKILL) after `delay`. Returns what it had said by then, and whether it was
/// still running.
fn killed(command: &mut Command, delay: Duration) -> (String, bool) {
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    std::thread::sleep(delay);
    child.kill().unwrap();
    let status = child.wait().unwrap();
    let mut said = String::new();
    child.stdout.take().unwrap().read_to_string(&mut said).unwrap();
    let mut wrong = String::new();
    child.stderr.take().unwrap().read_to_string(&mut wrong).unwrap();
    assert!(status.success() || status.code().is_none(), "it failed by itself: {wrong}");
    (said, status.code().is_none())
}

/// True until enough were killed; on a busy machine the short form stops earlier.
fn goes_on(hit: u64, times: u64, begun: Instant) -> bool {
    hit < times && (times > 100 || hit < 8 || begun.elapsed() < Duration::from_secs(20))
}

/// The `n`th value typed: no two of 9,000 are alike.
fn value(n: u64) -> String {
    format!("1.{:04}", 1000 + n % 9000)
}

fn added(bench: &Bench, last: u64) -> Vec<Entry> {
    let journal = Journal::open_read_only(&bench.path("wing.jigtrue")).unwrap();
    journal.entries_since(last).map(Result::unwrap).collect()
}

/// One program after the other, each recording one reading, until this many of them were killed at work.
fn kill_take(times: u64) {
    let bench = begun();
    let mut draws = Draws::new(81);
    let (mut n, mut hit, mut kept, mut lost_words) = (0, 0, 0, 0);
    let take = |n: u64| bench.command(&["take", "wing.jigtrue", "incidence@S1", &value(n)]);
    let span = usual(|| {
        assert!(take(n).output().unwrap().status.success());
        n += 1;
    });
    let mut last = 2 + n;
    let begun = Instant::now();
    while goes_on(hit, times, begun) {
        let most = 2 * u64::try_from(span.as_micros()).unwrap();
        let (said, running) = killed(&mut take(n), Duration::from_micros(draws.below(most)));
        hit += u64::from(running);
        let acknowledged = said.ends_with('\n');
        let entries = added(&bench, last);
        let extra = entries.len() - usize::from(acknowledged);
        assert!(entries.len() <= 1, "one reading, {} entries", entries.len());
        lost_words += extra;
        if let Some(entry) = entries.first() {
            let What::Reading(reading) = &entry.what else { unreachable!("{entry:?}") };
            assert_eq!(reading.text, value(n));
            assert_eq!(entry.seq, last + 1);
            assert!(!acknowledged || said.starts_with(&format!("{} incidence@S1", entry.seq)), "{said}");
            kept += u64::from(acknowledged);
        }
        last += entries.len() as u64;
        n += 1;
    }
    let ran = bench.line("verify wing.jigtrue --json").expect(0).json();
    assert_eq!(ran["entries"], last);
    println!(
        "`take` killed {hit} times at work of {n}: {kept} acknowledged and there, {lost_words} there unsaid, chain whole"
    );
}

#[test]
fn take_is_killed() {
    kill_take(60);
}

#[test]
#[ignore = "long"]
fn take_is_killed_a_thousand_times() {
    kill_take(1000);
}

/// A table is there whole or not at all.
fn kill_import(times: u64, rows: u64) {
    let bench = begun();
    let mut table = "point,value_deg,facing\n".to_owned();
    for n in 0..rows {
        table.push_str(&format!("incidence@S1,{},forward\n", value(n)));
    }
    bench.write("table.csv", &table);
    let import = || bench.command(&["import", "wing.jigtrue", "table.csv", "--again"]);
    let mut imports = 0;
    let span = usual(|| {
        assert!(import().output().unwrap().status.success());
        imports += 1;
    });
    let mut draws = Draws::new(82);
    let (mut hit, mut unsaid) = (0, 0);
    let begun = Instant::now();
    while goes_on(hit, times, begun) {
        let most = 3 * u64::try_from(span.as_micros()).unwrap() / 2;
        let (said, running) = killed(&mut import(), Duration::from_micros(draws.below(most)));
        hit += u64::from(running);
        let last = 2 + imports * rows;
        let entries = added(&bench, last);
        assert!(entries.is_empty() || entries.len() as u64 == rows, "{} of {rows} rows", entries.len());
        assert!(!said.ends_with('\n') || !entries.is_empty(), "it said: {said}");
        for (n, entry) in entries.iter().enumerate() {
            let What::Reading(reading) = &entry.what else { unreachable!("{entry:?}") };
            assert_eq!((reading.source, &reading.text), (Source::Imported, &value(n as u64)));
        }
        unsaid += u64::from(!entries.is_empty() && !said.ends_with('\n'));
        imports += u64::from(!entries.is_empty());
    }
    bench.line("verify wing.jigtrue").expect(0);
    // The guards that were removed for the tables are back.
    bench.line("take wing.jigtrue incidence@S1 2.05").expect(0);
    println!(
        "`import` of {rows} rows killed {hit} times at work: {imports} whole, {unsaid} of them unsaid, none in part"
    );
}

#[test]
fn import_is_killed() {
    kill_import(12, 1500);
}

#[test]
#[ignore = "long"]
fn import_is_killed_two_hundred_times() {
    kill_import(200, 20_000);
}
