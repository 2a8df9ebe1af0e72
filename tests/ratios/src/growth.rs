//! What a log costs as it grows.

use crate::process::{answer, jigtrue, peak_kib};
use crate::row::{Aim, Row, in_turns, median, time};
use crate::{Extent, Failure};
use journal::{Journal, NewEntry};
use quantity::Kind;
use record::{At, Facing, Reading, StageBegun, What};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

/// Stations of each stage.
const STATIONS: u32 = 12;

/// A log whose plan has `planned` stages, `stages` of them begun, each with a reading of every station in both
/// facings.
fn log(folder: &Path, planned: u32, stages: u32) -> Result<PathBuf, Failure> {
    let mut plan = String::from(
        "format = 1\n[wing]\nname = \"invented\"\nside = \"left\"\n[tolerance]\nstation = 0.5\n",
    );
    for n in 1..=STATIONS {
        plan += &format!(
            "[[station]]\nname = \"S{n}\"\nspan = {}\nchord = 1400\nincidence = {}\n",
            300 * n,
            2.0 - 0.2 * f64::from(n)
        );
    }
    plan += "[[instrument]]\nname = \"level\"\nkind = \"inclinometer\"\nresolution = 0.05\naccuracy = 0.1\nrepeatability = 0.03\n";
    for n in 1..=planned {
        plan += &format!(
            "[[stage]]\nname = \"stage {n}\"\nrequires = [\"incidence@*\"]\ndisturbs = [\"incidence@*\"]\n"
        );
    }
    let path = folder.join(format!("{stages}-of-{planned}.jigtrue"));
    let mut journal = Journal::create(&path, &plan, "ratios", At::from_millis(0), "ann")?;
    let mut entries = Vec::new();
    for stage in 1..=stages {
        entries.push(What::Stage(StageBegun::new(&format!("stage {stage}"))));
        for n in 1..=STATIONS {
            for (facing, sign) in [(Facing::Forward, 1.0), (Facing::Aft, -1.0)] {
                entries.push(What::Reading(taken(n, facing, sign, stage)?));
            }
        }
    }
    let mut ms = 0;
    journal.append_many(entries.into_iter().map(|what| {
        ms += 60_000;
        Ok::<_, Failure>(NewEntry::new(At::from_millis(ms), "ann", what))
    }))?;
    Ok(path)
}

fn taken(station: u32, facing: Facing, sign: f64, stage: u32) -> Result<Reading, Failure> {
    let scatter = f64::from((station * 7 + stage * 3) % 5) - 2.0;
    let hundredths = sign * (200.0 - 20.0 * f64::from(station)) + 5.0 * scatter;
    let value = hundredths / 100.0;
    Ok(Reading {
        text: format!("{value:.2}"),
        facing: Some(facing),
        instrument: Some("level".to_owned()),
        round: stage,
        ..Reading::of(
            format!("incidence@S{station}").parse().map_err(|_| "a point that is none")?,
            Kind::Angle,
            value,
            0.05,
        )
    })
}

/// A log of so many readings, in rounds of 28 or all in one.
fn readings(folder: &Path, name: &str, count: u32, in_rounds: bool) -> Result<PathBuf, Failure> {
    let empty = log(folder, 10, 0)?;
    let path = folder.join(name);
    std::fs::rename(empty, &path)?;
    let mut journal = Journal::open(&path)?;
    journal.append(At::from_millis(0), "ann", &What::Stage(StageBegun::new("stage 1")))?;
    let all = (0..count).map(|n| {
        let (facing, sign) = if n % 2 == 0 { (Facing::Forward, 1.0) } else { (Facing::Aft, -1.0) };
        let mut reading = taken(n / 2 % STATIONS + 1, facing, sign, n)?;
        reading.round = if in_rounds { n / (2 * STATIONS) + 1 } else { 1 };
        Ok::<_, Failure>(NewEntry::new(At::from_millis(60_000 + i64::from(n)), "ann", What::Reading(reading)))
    });
    journal.append_many(all)?;
    Ok(path)
}

/// A log of a million readings in rounds of 28, `rounds.jigtrue`.
pub fn long_log(folder: &Path) -> Result<(), Failure> {
    readings(folder, "rounds.jigtrue", 1_000_000, true).map(|_| ())
}

/// What a long log costs, each figure against the least that has to be done.
fn long(extent: Extent, folder: &Path) -> Result<Vec<Row>, Failure> {
    let count = u32::try_from(extent.of(1_000_000, 100_000))?;
    let many = readings(folder, "rounds.jigtrue", count, true)?;
    let one = readings(folder, "one.jigtrue", count, false)?;
    let new = readings(folder, "new.jigtrue", 28, true)?;
    let rounds = extent.of(5, 3);
    let mut failed = None;
    let mut run = |words: &[&str], log: &Path| {
        let done = answer(Command::new(jigtrue()).args(words).arg(log).current_dir(folder));
        failed = done.err().or(failed.take());
    };
    let mut rows = Vec::new();
    let share = f64::from(count) / 1e6;
    let aim = |seconds: f64| Duration::from_secs_f64(seconds * share);
    for (what, words, seconds) in [
        ("check, log of many rounds", ["check"].as_slice(), 0.5),
        ("sheet, log of many rounds", &["sheet", "-o", "many.pdf"], 2.0),
        ("verify, log of many rounds", &["verify"], 1.0),
    ] {
        let mut times: Vec<Duration> = (0..rounds).map(|_| time(|| run(words, &many)).0).collect();
        let pair = (median(&mut times), aim(seconds));
        rows.push(Row::of_times(what, "the aim, a time for each entry", pair, Aim::AtMost(1.0)));
    }
    let mut times: Vec<Duration> = (0..rounds).map(|_| time(|| run(&["check"], &one)).0).collect();
    let pair = (median(&mut times), aim(0.5));
    rows.push(Row::of_times(
        "check, all in one round",
        "the aim, a time for each entry",
        pair,
        Aim::AtMost(1.0),
    ));
    failed.map_or(Ok(()), Err)?;
    let mib = |kib: f64| format!("{:.1} MiB", kib / 1024.0);
    for (what, words, most) in [
        ("memory of check, many rounds", ["check"].as_slice(), 60.0),
        ("memory of sheet, many rounds", &["sheet", "-o", "many.pdf"], 120.0),
    ] {
        let out = folder.join("many.pdf");
        let words: Vec<std::ffi::OsString> =
            words.iter().map(|w| if *w == "many.pdf" { out.clone().into() } else { w.into() }).collect();
        let mut words: Vec<&std::ffi::OsStr> = words.iter().map(AsRef::as_ref).collect();
        words.push(many.as_os_str());
        let pair = (peak_kib(jigtrue(), &words)? as f64, most * 1024.0);
        rows.push(Row::of(what, "the aim", pair, Aim::AtMost(1.0), mib));
    }
    let take = |log: &Path, new_round: bool| {
        let mut command = Command::new(jigtrue());
        command.arg("take").arg(log).args(["incidence@S3", "1.40", "--by", "ann"]);
        if new_round {
            command.arg("--new-round");
        }
        command.output().is_ok()
    };
    for (what, log, anew) in [
        ("take, after a round of any length", &one, false),
        ("take, after many rounds", &many, false),
        ("take of a new round after many", &many, true),
    ] {
        let pair = in_turns(extent.of(21, 7), || _ = take(log, anew), || _ = take(&new, anew));
        rows.push(Row::of_times(what, "the same in a log of 28 readings", pair, Aim::AtMost(1.2)));
    }
    Ok(rows)
}

/// The rows of growth.
pub fn rows(extent: Extent, folder: &Path) -> Result<Vec<Row>, Failure> {
    let rounds = extent.of(21, 5);
    let (small, middle, large) = (log(folder, 10, 10)?, log(folder, 100, 100)?, log(folder, 1000, 1000)?);
    let check = |log: &Path| Command::new(jigtrue()).args(["check", "--json"]).arg(log).output().is_ok();
    // The cost of starting the program does not grow.
    let mut starts: Vec<Duration> =
        (0..rounds).map(|_| time(|| _ = Command::new(jigtrue()).arg("--version").output()).0).collect();
    let start = median(&mut starts);
    let tens = in_turns(rounds, || _ = check(&middle), || _ = check(&small));
    let hundreds = in_turns(rounds, || _ = check(&large), || _ = check(&middle));
    let above = |pair: (Duration, Duration)| (pair.0.saturating_sub(start), pair.1.saturating_sub(start));
    let take = |log: &Path| {
        answer(Command::new(jigtrue()).arg("take").arg(log).args(["incidence@S3", "1.40", "--by", "ann"]))
            .is_ok()
    };
    // The same plan in both, because reading it does not depend on the log's length.
    let begun = log(folder, 1000, 10)?;
    let taking = in_turns(rounds, || _ = take(&large), || _ = take(&begun));
    let mut rows = long(extent, folder)?;
    rows.extend([
        Row::of_times(
            "check, 100 stages",
            "check, 10 stages; start-up taken off",
            above(tens),
            Aim::AtMost(10.0),
        ),
        Row::of_times(
            "check, 1,000 stages",
            "check, 100 stages; start-up taken off",
            above(hundreds),
            Aim::AtMost(10.0),
        ),
        Row::of_times("take, log of 25,000 entries", "take, log of 250 entries", taking, Aim::AtMost(1.2)),
    ]);
    Ok(rows)
}
