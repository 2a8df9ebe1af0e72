//! Much of everything: an instrument of 1 kHz, and logs of many entries.
//!
//! Long: `./test --long --test cli load`.

use crate::program::Bench;
use instrument::{Decoder, DialectSpec, Settle, SettleSettings, State, Template};
use journal::{Journal, JournalError, NewEntry};
use record::At;
use std::io::Read;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use stories::invented::{moment, reading};
use stories::seeded::Draws;

/// The most memory a process has had, in KiB; 0 if the system does not say (Linux does).
fn most_memory_kib(process: &str) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    line.and_then(|l| l.trim().trim_end_matches(" kB").parse().ok()).unwrap_or(0)
}

/// Lines of text at 1 kHz, as an operating system hands them over, 16 ms at a time: each minute a third of it moves
/// to a new place and two thirds stand there, with noise.
fn a_thousand_a_second(minutes: u64) {
    let template = Template::new("T={angle deg}").unwrap();
    let mut decoder = Decoder::new(&DialectSpec::Lines(template));
    let mut settle = Settle::new(SettleSettings::from_instrument(0.001, 0.002));
    let mut draws = Draws::new(1000);
    let (mut frames, mut settled, mut was_settled) = (0_u64, 0_u64, false);
    let mut bytes = Vec::with_capacity(1024);
    let before = most_memory_kib("self");
    let start = Instant::now();
    let mut busy = Duration::ZERO;
    for ms in 0..minutes * 60_000 {
        let (minute, within) = (ms / 60_000, ms % 60_000);
        let place = |minute: u64| (minute * 37 % 20) as f64 / 10.0 - 1.0;
        let moved = (within as f64 / 20_000.0).min(1.0);
        let truth = place(minute) + (place(minute + 1) - place(minute)) * moved;
        let noise = (draws.below(9) as f64 - 4.0) / 1000.0;
        bytes.extend_from_slice(format!("T={:.3}\r\n", truth + noise).as_bytes());
        if ms % 16 != 15 && ms + 1 != minutes * 60_000 {
            continue;
        }
        let heard = Instant::now();
        decoder.each(&bytes, |next| {
            // The first line may have begun before the port was opened.
            let Ok(sample) = next else { return };
            frames += 1;
            let state = settle.sample(ms, &sample);
            let is_settled = matches!(state, State::Settled { .. });
            if let (State::Settled { reading, .. }, false) = (state, was_settled) {
                assert!((reading.value - place(minute + 1)).abs() < 0.01, "{reading:?} in minute {minute}");
                settled += 1;
            }
            was_settled = is_settled;
        });
        busy += heard.elapsed();
        bytes.clear();
    }
    let grown = most_memory_kib("self") - before;
    println!(
        "1 kHz for {minutes} min: {frames} frames decoded and settled in {busy:?} ({:?} with making them), memory grew by {grown} KiB",
        start.elapsed()
    );
    assert!(frames + 1 >= minutes * 60_000, "{frames} frames");
    assert_eq!(settled, minutes, "one reading a minute");
    // Other stories of this file may run meanwhile; the samples of an hour would be 80 MB.
    assert!(grown < 24 << 10, "memory grew by {grown} KiB");
}

#[test]
fn a_minute_at_1_khz() {
    a_thousand_a_second(1);
}

#[test]
#[ignore = "long"]
fn an_hour_at_1_khz() {
    a_thousand_a_second(60);
}

/// A plan with the points of the invented readings.
fn plan() -> String {
    let mut plan =
        "format = 1\n[wing]\nname = \"invented\"\nside = \"left\"\n[tolerance]\nstation = 0.5\n".to_owned();
    for n in 1..=14 {
        plan += &format!("[[station]]\nname = \"S{n}\"\nspan = {}\nchord = 1200\nincidence = 0\n", 300 * n);
    }
    plan + "[[instrument]]\nname = \"level-1\"\nkind = \"inclinometer\"\nresolution = 0.01\naccuracy = 0.1\n\
        repeatability = 0.03\n[[stage]]\nname = \"ribs on\"\nrequires = [\"incidence@*\"]\n"
}

fn log_of(bench: &Bench, entries: u64) -> String {
    let name = format!("{entries}.jigtrue");
    let mut journal =
        Journal::create(&bench.path(&name), &plan(), "stories", At::from_millis(0), "ann").unwrap();
    journal
        .append_many((1..entries).map(|n| Ok::<_, JournalError>(NewEntry::new(moment(n), "ann", reading(n)))))
        .unwrap();
    name
}

/// Runs it to its end; returns how long it took and the most memory it was seen to have, in KiB.
fn measured(command: &mut Command) -> (Duration, u64) {
    let start = Instant::now();
    let mut child = command.stdout(Stdio::null()).stderr(Stdio::piped()).spawn().unwrap();
    let id = child.id().to_string();
    let mut most = 0;
    loop {
        most = most_memory_kib(&id).max(most);
        if let Some(status) = child.try_wait().unwrap() {
            let mut said = String::new();
            child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
            assert!(matches!(status.code(), Some(0 | 10 | 11)), "{command:?} ended with {status}: {said}");
            return (start.elapsed(), most);
        }
        std::thread::sleep(Duration::from_micros(500));
    }
}

/// The median time of some runs, and the largest memory of them.
fn several(runs: usize, mut command: impl FnMut() -> Command) -> (Duration, u64) {
    let mut all: Vec<(Duration, u64)> = (0..runs).map(|_| measured(&mut command())).collect();
    all.sort_unstable();
    (all[runs / 2].0, all.iter().map(|(_, kib)| *kib).max().unwrap())
}

/// Prints what each verb costs; returns the time and memory of `take`, and the memory of `verify` and `export`.
fn costs(bench: &Bench, entries: u64) -> (Duration, [u64; 3]) {
    let log = log_of(bench, entries);
    let run = |args: &[&str]| {
        let [verb, rest @ ..] = args else { panic!("no verb") };
        bench.command(&[&[*verb, log.as_str()], rest].concat())
    };
    // The first reading begins a round, for which each reading is tested; those after it cost what one costs.
    let (first, _) = several(1, || run(&["take", "incidence@S3", "0.10", "--new-round"]));
    let (take, take_kib) = several(9, || run(&["take", "incidence@S3", "0.10"]));
    let (check, check_kib) = several(3, || run(&["check"]));
    let (verify, verify_kib) = several(3, || run(&["verify"]));
    let (export, export_kib) = several(3, || run(&["export"]));
    println!(
        "{entries} entries: take {take:?}, {} MB (first of a round {first:?}); check {check:?}, {} MB; verify {verify:?}, {} MB; export {export:?}, {} MB",
        take_kib >> 10,
        check_kib >> 10,
        verify_kib >> 10,
        export_kib >> 10
    );
    std::fs::remove_file(bench.path(&log)).unwrap();
    (take, [take_kib, verify_kib, export_kib])
}

/// What does not need all entries does not hold them: no more memory for a log ten times as long.
fn assert_flat(small: [u64; 3], large: [u64; 3]) {
    for (verb, (small, large)) in ["take", "verify", "export"].into_iter().zip(small.into_iter().zip(large)) {
        assert!(large <= small + 8192, "{verb}: {small} KiB, then {large} KiB");
    }
}

#[test]
fn a_longer_log_takes_no_more_memory() {
    let bench = Bench::new();
    let (_, small) = costs(&bench, 2_000);
    let (_, large) = costs(&bench, 30_000);
    assert_flat(small, large);
}

#[test]
#[ignore = "long"]
fn a_million_entries() {
    let bench = Bench::new();
    let (take_small, small) = costs(&bench, 1_000);
    costs(&bench, 100_000);
    let (take_large, large) = costs(&bench, 1_000_000);
    assert_flat(small, large);
    let ratio = take_large.as_secs_f64() / take_small.as_secs_f64();
    println!("take: a million entries against a thousand {ratio:.2}");
    assert!(ratio < 2.0, "a reading costs {ratio:.2} times as much in the larger log");
}
