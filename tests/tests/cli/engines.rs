//! An export of many logs, read by engines that others wrote: the documented query gives the figures of `series`.

use crate::program::Bench;
use serde_json::Value;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;
use stories::wings::{Workshop, write};

/// Says loudly that an engine was skipped.
fn skip(engine: &str) {
    let line =
        format!("\n*** SKIPPED: no Python with the {engine} engine here (tests/engines/install) ***\n");
    let _ = std::io::stderr().write_all(line.as_bytes());
}

/// A Python that has this package.
fn python(package: &str) -> Option<PathBuf> {
    let home = std::env::var("HOME").unwrap_or_default();
    let own = std::env::var("JIGTRUE_ENGINES").unwrap_or_else(|_| format!("{home}/.cache/jigtrue-engines"));
    let has = |python: &PathBuf| {
        let asked = Command::new(python).args(["-c", &format!("import {package}")]).output();
        asked.is_ok_and(|out| out.status.success())
    };
    [Path::new(&own).join("bin/python"), PathBuf::from("python3")].into_iter().find(has)
}

fn ask(python: &Path, engine: &str, folder: &Path) -> Vec<Value> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let out = Command::new(python)
        .arg(root.join("engines/query.py"))
        .args([engine.as_ref(), folder.as_os_str(), root.join("../docs/many-wings.sql").as_os_str()])
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let rows: Value = serde_json::from_slice(&out.stdout).unwrap();
    rows.as_array().unwrap().clone()
}

fn near(found: &Value, expected: &Value, what: &str) {
    match (found.as_f64(), expected.as_f64()) {
        (Some(a), Some(b)) => assert!((a - b).abs() <= 1e-9 * (1.0 + b.abs()), "{what}: {a} and not {b}"),
        _ => assert!(found.is_null() && expected.is_null(), "{what}: {found} and not {expected}"),
    }
}

fn same(series: &Value, rows: &[Value]) {
    let figures = series["figures"].as_array().unwrap();
    assert!(figures.len() >= 13, "{}", figures.len());
    assert_eq!(rows.len(), figures.len());
    for figure in figures {
        let row = rows.iter().find(|r| r["kind"] == figure["kind"] && r["about"] == figure["about"]);
        let what = format!("{} {}", figure["kind"], figure["about"]);
        let row = row.unwrap_or_else(|| panic!("{what} is not in the export"));
        assert_eq!(row["n"], figure["n"], "{what}");
        for (column, expected) in [
            ("mean", &figure["mean"]),
            ("sd", &figure["sd"]),
            ("lower_control", &figure["chart"]["lower"]),
            ("upper_control", &figure["chart"]["upper"]),
            ("per_wing", &figure["trend"]["per_wing"]),
        ] {
            near(&row[column], expected, &format!("{column} of {what}"));
        }
    }
}

/// Writes the logs, exports them, and asks every engine there is.
fn agree(wings: u64) {
    let bench = Bench::new();
    std::fs::create_dir(bench.path("logs")).unwrap();
    let workshop = Workshop { washout_drift: 0.3 / wings as f64, ..Workshop::default() };
    let begun = Instant::now();
    (0..wings).for_each(|n| write(workshop, n, &bench.path(&format!("logs/w{n:05}.jigtrue"))));
    let written = begun.elapsed();
    // One that cannot be judged is in neither.
    bench.write("logs/x.jigtrue", "no log");
    let begun = Instant::now();
    let series = bench.line("series logs --json").expect(11).json();
    let reckoned = begun.elapsed();
    let begun = Instant::now();
    let done = bench.line("export logs --into many --json").expect(11).json();
    println!(
        "{wings} wings: written in {written:?}, series in {reckoned:?}, export in {:?}",
        begun.elapsed()
    );
    assert_eq!((done["wings"].as_u64(), done["kinds"].as_u64()), (Some(wings), Some(1)));
    for (engine, package) in [("embedded", "duckdb"), ("distributed", "pyspark")] {
        let Some(python) = python(package) else {
            skip(engine);
            continue;
        };
        let begun = Instant::now();
        same(&series, &ask(&python, engine, &bench.path("many")));
        println!("{engine}: {:?}", begun.elapsed());
    }
}

#[test]
fn a_few_dozen_wings_agree_in_every_engine() {
    agree(30);
}

#[test]
#[ignore = "10,000 logs take minutes"]
fn ten_thousand_wings_agree_in_every_engine() {
    agree(10_000);
}

#[test]
fn an_export_replaces_an_export_and_nothing_else() {
    let bench = Bench::new();
    (0..2).for_each(|n| write(Workshop::default(), n, &bench.path(&format!("w{n}.jigtrue"))));
    bench.line("export w0.jigtrue --into many").expect(0);
    let first = std::fs::read(part(&bench, "figures")).unwrap();
    bench.line("export w0.jigtrue w1.jigtrue --into many").expect(0);
    assert_ne!(std::fs::read(part(&bench, "figures")).unwrap(), first);
    bench.line("export w0.jigtrue --into many").expect(0);
    assert_eq!(std::fs::read(part(&bench, "figures")).unwrap(), first, "the same logs give the same bytes");
    // What a killed export leaves beside it is removed.
    let left = bench.path(".many.jigtrue-part");
    std::fs::create_dir_all(left.join("figures/wing_kind=left-00000000")).unwrap();
    std::fs::write(left.join("jigtrue-export.json"), "").unwrap();
    bench.line("export w0.jigtrue --into many").expect(0);
    assert!(!left.exists());
    assert_eq!(std::fs::read(part(&bench, "figures")).unwrap(), first);
    // Somebody's folder, a log, and a name in a missing folder are left alone.
    std::fs::create_dir(bench.path("mine")).unwrap();
    bench.write("mine/letter.txt", "keep");
    for place in ["mine", "w1.jigtrue", "away/many"] {
        let ran = bench.line(&format!("export w0.jigtrue --into {place}")).expect(1);
        assert!(!ran.err.is_empty());
    }
    assert_eq!(bench.read("mine/letter.txt"), b"keep");
    bench.line("verify w1.jigtrue").expect(0);
    // Words that do not make an export.
    bench.line("export").expect(2);
    bench.line("export w0.jigtrue --into many -o x.csv").expect(2);
    bench.line("export w0.jigtrue --stage \"ribs on\"").expect(2);
    assert!(bench.line("export w0.jigtrue w1.jigtrue").expect(2).err.contains("--into"));
}

fn part(bench: &Bench, table: &str) -> PathBuf {
    let kinds = std::fs::read_dir(bench.path("many").join(table)).unwrap();
    let kind = kinds.flatten().next().unwrap();
    assert!(kind.file_name().to_string_lossy().starts_with("wing_kind=left-"));
    kind.path().join("part-0.parquet")
}
