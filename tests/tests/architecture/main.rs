//! Which room may use which. The arrows are read from `cargo metadata`; an arrow that is not allowed fails here.
#![allow(clippy::unwrap_used, reason = "a test stops where something is missing")]

mod circles;
mod docs;
mod flags;
mod unrun;

use std::collections::{BTreeMap, BTreeSet};
use std::process::Command;

/// Crate, and the crates of ours it may use.
const ALLOWED: &[(&str, &[&str])] = &[
    ("jigtrue-protocol", &[]),
    ("quantity", &[]),
    ("numerics", &[]),
    ("instrument", &["jigtrue-protocol", "quantity"]),
    ("record", &["quantity"]),
    ("assess", &["quantity", "numerics", "record"]),
    // Only tests.
    ("numerics-tests", &[]),
    ("assess-tests", &[]),
    ("journal", &["quantity", "record"]),
    ("sheet", &["quantity", "record", "assess"]),
    ("bench", &["quantity", "instrument", "record", "assess"]),
    (
        "session",
        &["jigtrue-protocol", "quantity", "numerics", "instrument", "record", "assess", "bench", "journal"],
    ),
    (
        "jigtrue",
        &[
            "session",
            "sheet",
            "jigtrue-protocol",
            "quantity",
            "numerics",
            "instrument",
            "record",
            "assess",
            "bench",
            "journal",
        ],
    ),
    // The window's library; only its program adds session and sheet, checked below.
    ("jigtrue-window", &["assess", "bench", "record", "quantity", "instrument", "session", "sheet"]),
    (
        "stories",
        &[
            "jigtrue-protocol",
            "quantity",
            "numerics",
            "instrument",
            "record",
            "assess",
            "bench",
            "journal",
            "sheet",
            "session",
            "jigtrue",
            "jigtrue-window",
        ],
    ),
    (
        "ratios",
        &["stories", "jigtrue-protocol", "quantity", "numerics", "instrument", "record", "assess", "journal"],
    ),
];

fn metadata() -> serde_json::Value {
    let out = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--no-deps", "--offline"])
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    serde_json::from_slice(&out.stdout).unwrap()
}

/// Crate -> crates of ours it uses outside its tests.
fn arrows() -> BTreeMap<String, BTreeSet<String>> {
    let metadata = metadata();
    let packages = metadata["packages"].as_array().unwrap();
    let ours: BTreeSet<&str> = packages.iter().map(|p| p["name"].as_str().unwrap()).collect();
    packages
        .iter()
        .map(|p| {
            let uses = p["dependencies"]
                .as_array()
                .unwrap()
                .iter()
                .filter(|d| d["kind"].as_str() != Some("dev"))
                .map(|d| d["name"].as_str().unwrap())
                .filter(|d| ours.contains(d))
                .map(str::to_owned)
                .collect();
            (p["name"].as_str().unwrap().to_owned(), uses)
        })
        .collect()
}

#[test]
fn every_arrow_is_an_allowed_one() {
    let allowed: BTreeMap<&str, BTreeSet<&str>> =
        ALLOWED.iter().map(|(name, uses)| (*name, uses.iter().copied().collect())).collect();
    let arrows = arrows();
    assert_eq!(
        arrows.keys().map(String::as_str).collect::<BTreeSet<_>>(),
        allowed.keys().copied().collect::<BTreeSet<_>>(),
        "a crate came or went: say here whom it may use"
    );
    for (name, uses) in &arrows {
        for used in uses {
            assert!(allowed[name.as_str()].contains(used.as_str()), "{name} may not use {used}");
        }
    }
}

#[test]
fn the_windows_library_knows_neither_the_session_nor_the_sheet() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../crates/window/src");
    let mut seen = 0;
    for path in rust_files(root) {
        let name = path.strip_prefix(root).unwrap().to_string_lossy().into_owned();
        if name == "main.rs" || name.starts_with("app/") {
            continue;
        }
        seen += 1;
        let text = std::fs::read_to_string(&path).unwrap();
        for banned in ["use session", "session::", "use sheet", "sheet::"] {
            let uses = text
                .lines()
                .filter(|l| !l.trim_start().starts_with("//"))
                .any(|l| l.contains(banned) && !l.contains("worksheet"));
            assert!(!uses, "{name} uses {banned}");
        }
    }
    assert!(seen > 0);
}

#[test]
fn the_small_rooms_need_no_standard_library() {
    for lib in ["crates/quantity/src/lib.rs", "firmware-protocol/src/lib.rs", "crates/instrument/src/lib.rs"]
    {
        let path = format!("{}/../{lib}", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).unwrap();
        assert!(text.contains("no_std"), "{lib} must be no_std");
    }
}

#[test]
fn no_source_file_is_longer_than_400_lines() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/..");
    let mut files = rust_files(&format!("{root}/crates"));
    files.extend(rust_files(&format!("{root}/firmware-protocol/src")));
    assert!(files.len() > 50);
    for path in files {
        if !path.components().any(|part| part.as_os_str() == "src") {
            continue;
        }
        let lines = std::fs::read_to_string(&path).unwrap().lines().count();
        assert!(lines <= 400, "{} has {lines} lines: split it", path.display());
    }
}

/// What only tests switch on: recordings of keys as text, the second PDF standard.
const FOR_TESTS: &[(&str, &str)] = &[("bench", "recording"), ("sheet", "preflight")];

#[test]
fn the_programs_hold_nothing_that_only_tests_use() {
    for program in ["jigtrue", "jigtrue-window"] {
        let out = Command::new(env!("CARGO"))
            .args([
                "tree",
                "--offline",
                "--package",
                program,
                "--edges",
                "normal",
                "--prefix",
                "none",
                "--format",
                "{p}|{f}",
            ])
            .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
            .output()
            .unwrap();
        assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
        let tree = String::from_utf8(out.stdout).unwrap();
        for (room, feature) in FOR_TESTS {
            let mut lines = tree.lines().filter(|line| line.split(' ').next() == Some(room)).peekable();
            assert!(lines.peek().is_some(), "{program} has no {room}");
            for line in lines {
                let features = line.trim_end_matches(" (*)").split('|').nth(1).unwrap();
                assert!(!features.split(',').any(|f| f == *feature), "{program} holds `{feature}` of {room}");
            }
        }
    }
}

/// Where a kind of point may be named: its row, its judgement, and the two screens that show one judgement.
const NAMES_A_KIND: &[&str] = &[
    "crates/record/src/point/",
    "crates/record/src/plan/rigging/",
    "crates/record/src/plan/file/rigging/",
    "crates/record/src/plan/warnings.rs",
    "crates/assess/src/parts/",
    "crates/assess/src/incidence.rs",
    "crates/assess/src/advice/findings/",
    "crates/window/src/screens/level/",
    "crates/window/src/screens/profile",
];

#[test]
fn a_kind_of_point_is_named_only_in_its_row_its_judgement_and_its_views() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/..");
    let words = record::PointKind::all().map(|k| (format!("PointKind::{k:?}"), format!("\"{}@", k.word())));
    let words: Vec<(String, String)> = words.collect();
    let mut named = Vec::new();
    for path in rust_files(&format!("{root}/crates")) {
        let name = path.strip_prefix(root).unwrap().to_string_lossy().into_owned();
        let source = name.contains("/src/") && !name.contains("/tests");
        if !source || NAMES_A_KIND.iter().any(|allowed| name.starts_with(allowed)) {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let product = text.split("#[cfg(test)]").next().unwrap_or_default();
        let code = product.lines().filter(|l| !l.trim_start().starts_with("//"));
        for line in code {
            if words.iter().any(|(kind, word)| line.contains(kind.as_str()) || line.contains(word.as_str())) {
                named.push(format!("{name}: {}", line.trim()));
            }
        }
    }
    assert!(named.is_empty(), "read the row instead (crates/record/src/point/row.rs):\n{}", named.join("\n"));
}

fn rust_files(root: &str) -> Vec<std::path::PathBuf> {
    let mut out = Vec::new();
    let mut folders = vec![std::path::PathBuf::from(root)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                out.push(path);
            }
        }
    }
    out
}
