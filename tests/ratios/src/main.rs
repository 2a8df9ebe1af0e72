//! What the program costs, each time as a ratio against a named rival or limit measured in turns with it.
//!
//! `tests/ratios/run` builds everything and prints the table; `--short` runs fewer rounds of fewer rows and fails if
//! a ratio is worse than half as good as recorded; `--record` writes `recorded.toml`; `--table` prints the table of
//! DEVELOPERS.md; `long-log FOLDER` writes a log of a million readings there, for the window to open.
#![expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    reason = "counts are far below 2^53"
)]

mod decode;
mod growth;
mod log;
mod numbers;
mod process;
mod row;

use row::Row;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};

/// Whatever stops a measurement.
type Failure = Box<dyn std::error::Error + Send + Sync>;

/// How much is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Extent {
    Long,
    Short,
}

impl Extent {
    fn of(self, long: usize, short: usize) -> usize {
        if self == Self::Long { long } else { short }
    }

    const fn table(self) -> &'static str {
        match self {
            Self::Long => "long",
            Self::Short => "short",
        }
    }
}

/// Recorded ratios by extent and name.
type Recorded = BTreeMap<String, BTreeMap<String, f64>>;

fn recorded_at() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("recorded.toml")
}

fn key(row: &Row) -> String {
    format!("{} / {}", row.what, row.rival)
}

/// Measures one part of the table in a folder.
type Part = fn(Extent, &Path) -> Result<Vec<Row>, Failure>;

/// The parts of the table; a word on the command line chooses one.
const PARTS: [(&str, Part); 5] = [
    ("processes", process::rows),
    ("mathematics", numbers::rows),
    ("decoding", |extent, _| decode::rows(extent)),
    ("log", log::rows),
    ("growth", growth::rows),
];

/// Measures the wanted parts one by one, and returns the rows of each when it is done. Names the parts that failed; a
/// failure does not stop the others.
fn measure(
    extent: Extent,
    wanted: impl Fn(&str) -> bool,
    mut show: impl FnMut(&[Row]),
) -> Result<(Vec<Row>, Vec<&'static str>), Failure> {
    // Beside the build, because the usual place for temporary files may be in memory.
    let folder = tempfile::tempdir_in(process::beside(""))?;
    process::answer(Command::new(process::jigtrue()).arg("demo").current_dir(folder.path()))?;
    let (mut rows, mut failed) = (Vec::new(), Vec::new());
    for (name, part) in PARTS.into_iter().filter(|(name, _)| wanted(name)) {
        let (took, done) = row::time(|| part(extent, folder.path()));
        match done {
            Ok(some) => {
                show(&some);
                rows.extend(some);
            }
            Err(why) => {
                eprintln!("FAILED: {name}: {why}");
                failed.push(name);
            }
        }
        eprintln!("{name}: {took:.1?}");
    }
    Ok((rows, failed))
}

/// The rows that are worse than half as good as recorded.
fn losses<'r>(rows: &'r [Row], recorded: &BTreeMap<String, f64>) -> Vec<&'r Row> {
    rows.iter()
        .filter(|r| recorded.get(&key(r)).is_some_and(|&was| r.aim.is_gross_loss(r.ratio, was)))
        .collect()
}

fn run() -> Result<bool, Failure> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    if let [word, folder] = words.as_slice()
        && word == "long-log"
    {
        return growth::long_log(Path::new(folder)).map(|()| true);
    }
    let flags = ["--short", "--record", "--table"];
    let parts = PARTS.map(|(name, _)| name);
    if let Some(odd) = words.iter().find(|w| !flags.contains(&w.as_str()) && !parts.contains(&w.as_str())) {
        return Err(format!("what is {odd}? there are {flags:?}, and of parts {parts:?}").into());
    }
    let all_parts = !words.iter().any(|w| parts.contains(&w.as_str()));
    let wanted = |part: &str| all_parts || words.iter().any(|w| w == part);
    let extent = if words.iter().any(|w| w == "--short") { Extent::Short } else { Extent::Long };
    let mut all: Recorded =
        std::fs::read_to_string(recorded_at()).map_or(Ok(Recorded::new()), |text| toml::from_str(&text))?;
    let recorded = all.get(extent.table()).cloned().unwrap_or_default();
    let table = words.iter().any(|w| w == "--table");
    println!("{}", if table { Row::marked_heads().to_owned() } else { Row::heads() });
    let show = |rows: &[Row]| {
        for row in rows {
            println!("{}", if table { row.marked() } else { row.line(recorded.get(&key(row)).copied()) });
        }
    };
    let (rows, failed) = measure(extent, wanted, show)?;
    if table || !failed.is_empty() {
        return Ok(failed.is_empty());
    }
    if words.iter().any(|w| w == "--record") {
        let ratios = rows.iter().map(|r| (key(r), (r.ratio * 1000.0).round() / 1000.0));
        all.entry(extent.table().to_owned()).or_default().extend(ratios);
        let mut text = String::from(
            "# Ratios as they were when last recorded, by `tests/ratios/run [--short] --record`.\n",
        );
        for (table, ratios) in &all {
            text += &format!("\n[{table}]\n");
            text.extend(ratios.iter().map(|(name, ratio)| format!("\"{name}\" = {ratio:?}\n")));
        }
        std::fs::write(recorded_at(), text)?;
        return Ok(true);
    }
    if extent == Extent::Long || losses(&rows, &recorded).is_empty() {
        return Ok(true);
    }
    // A busy moment of the machine is not a loss: a real one shows twice.
    let (again, _) = measure(extent, wanted, |_| ())?;
    let lost: Vec<String> = losses(&rows, &recorded).iter().map(|r| key(r)).collect();
    let lost: Vec<&Row> = losses(&again, &recorded).into_iter().filter(|r| lost.contains(&key(r))).collect();
    for row in &lost {
        println!("LOST, twice measured: {}", row.line(recorded.get(&key(row)).copied()));
    }
    Ok(lost.is_empty())
}

fn main() -> ExitCode {
    match run() {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::from(2)
        }
    }
}
