//! The log, against plain files and the SQLite shell on the same disk.

use crate::process::{answer, jigtrue, peak_kib};
use crate::row::{Aim, Row, in_turns, time};
use crate::{Extent, Failure};
use journal::Journal;
use record::{At, Facing, StageBegun, What};
use std::fs::File;
use std::io::{BufWriter, Write};
use std::path::Path;
use std::process::Command;
use stories::invented::{moment, reading};

/// The rows of the log, in `folder`, which must be on a disk and not in memory.
pub fn rows(extent: Extent, folder: &Path) -> Result<Vec<Row>, Failure> {
    let mut rows = vec![append(extent, folder)?];
    let count = extent.of(1_000_000, 50_000);
    rows.extend(many(count as u64, folder)?);
    Ok(rows)
}

fn append(extent: Extent, folder: &Path) -> Result<Row, Failure> {
    let mut journal = Journal::create(&folder.join("append.jigtrue"), &plan(), "ratios", moment(0), "ann")?;
    let mut plain = File::options().append(true).create(true).open(folder.join("plain"))?;
    let (mut n, mut failed) = (0, None);
    let pair = in_turns(
        extent.of(3000, 300),
        || {
            n += 1;
            failed = journal.append(moment(n), "ann", &reading(n)).err().or(failed.take());
        },
        || {
            let _ = plain.write_all(&[b'x'; 100]).and_then(|()| plain.sync_data());
        },
    );
    failed.map_or(Ok(()), Err)?;
    Ok(Row::of_times("one durable reading", "append + fdatasync of 100 bytes", pair, Aim::AtMost(1.5)))
}

/// Fourteen stations, as the invented readings have them.
fn plan() -> String {
    let mut plan = String::from("format = 1\n[wing]\nname = \"invented\"\nside = \"left\"\n");
    for n in 1..=14 {
        plan += &format!("[[station]]\nname = \"S{n}\"\nspan = {}\nchord = 1400\nincidence = 1\n", 300 * n);
    }
    plan + "[[instrument]]\nname = \"level-1\"\nkind = \"inclinometer\"\nresolution = 0.01\naccuracy = 0.1\n\
            [[stage]]\nname = \"ribs\"\nrequires = [\"incidence@*\"]\n"
}

/// A log ready for readings.
fn started(path: &Path) -> Result<(), Failure> {
    let mut journal = Journal::create(path, &plan(), "ratios", At::from_millis(0), "ann")?;
    journal.append(At::from_millis(1), "ann", &What::Stage(StageBegun::new("ribs")))?;
    Ok(())
}

/// A table as people keep it.
fn write_table(path: &Path, rows: u64) -> Result<(), Failure> {
    let mut table = BufWriter::new(File::create(path)?);
    writeln!(table, "point,value_deg,facing,round,instrument")?;
    for n in 0..rows {
        if let What::Reading(r) = reading(n) {
            let facing = r.facing.unwrap_or(Facing::Forward);
            // What the stations may show: the design of one degree, a few hundredths to either side.
            let shown = facing.sign() + (n * 7 % 11) as f64 / 100.0 - 0.05;
            writeln!(table, "{},{shown:.2},{},{},level-1", r.point, facing.word(), r.round)?;
        }
    }
    Ok(table.into_inner()?.sync_all()?)
}

fn sqlite(database: &Path, commands: &[&str]) -> Result<(), Failure> {
    answer(Command::new("sqlite3").arg(database).args(commands)).map(|_| ())
}

/// Import and `verify`, whole processes.
fn many(count: u64, folder: &Path) -> Result<Vec<Row>, Failure> {
    let (log, table) = (folder.join("many.jigtrue"), folder.join("readings.csv"));
    write_table(&table, count)?;
    let small = folder.join("small.csv");
    write_table(&small, count / 10)?;
    let import_command = format!(".import '{}' reading", table.display());
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for _ in 0..3 {
        for name in ["many.jigtrue", "many.jigtrue-wal", "many.jigtrue-shm", "rival.db"] {
            let _ = std::fs::remove_file(folder.join(name));
        }
        started(&log)?;
        let rival = folder.join("rival.db");
        let (took, done) = time(|| sqlite(&rival, &[".mode csv", &import_command]));
        done?;
        theirs.push(took);
        let (took, done) = time(|| {
            answer(Command::new(jigtrue()).arg("import").arg(&log).arg(&table).args(["--by", "ann"]))
        });
        done?;
        ours.push(took);
    }
    let importing = (crate::row::median(&mut ours), crate::row::median(&mut theirs));

    // Ten times the table must not take more memory.
    let less = folder.join("less.jigtrue");
    let more = folder.join("more.jigtrue");
    started(&less)?;
    started(&more)?;
    let peak = |log: &Path, table: &Path| {
        peak_kib(
            jigtrue(),
            &["import".as_ref(), log.as_ref(), table.as_ref(), "--by".as_ref(), "ann".as_ref()],
        )
    };
    let memory = (peak(&more, &table)? as f64, peak(&less, &small)? as f64);

    // The same bytes as text, for sha256sum.
    let bytes = folder.join("bytes");
    let output = format!(".output '{}'", bytes.display());
    sqlite(&log, &[&output, "SELECT seq, at, \"by\", kind, body, hash FROM entry"])?;
    let mut failed = None;
    let mut note = |done: Result<(), Failure>| failed = done.err().or(failed.take());
    let (mut ours, mut theirs) = (Vec::new(), Vec::new());
    for _ in 0..3 {
        let (took, done) = time(|| {
            sqlite(&log, &["SELECT sum(length(body)) FROM entry"])?;
            answer(Command::new("sha256sum").arg(&bytes)).map(|_| ())
        });
        note(done);
        theirs.push(took);
        let (took, done) = time(|| answer(Command::new(jigtrue()).arg("verify").arg(&log)).map(|_| ()));
        note(done);
        ours.push(took);
    }
    failed.map_or(Ok(()), Err)?;
    let verifying = (crate::row::median(&mut ours), crate::row::median(&mut theirs));
    let mib = |kib: f64| format!("{:.1} MiB", kib / 1024.0);
    Ok(vec![
        Row::of_times(
            "import of many readings",
            "sqlite3 .import of the same table",
            importing,
            Aim::AtMost(2.0),
        ),
        Row::of("memory of that import", "the import of a tenth of it", memory, Aim::AtMost(1.2), mib),
        Row::of_times("verify of that log", "sha256sum and a scan by sqlite3", verifying, Aim::AtMost(1.5)),
    ])
}
