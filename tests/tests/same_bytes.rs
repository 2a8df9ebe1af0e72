//! The same log gives the same bytes in every build: the program alone, and the program built together with the
//! window, whose crates turn on features of shared ones.
#![allow(clippy::unwrap_used, reason = "a story stops where something fails")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Crates of the program that have other features beside the window, and why no number or byte depends on that.
const MAY_DIFFER: [(&str, &str); 14] = [
    ("ahash", "a container of the columnar export, which no sheet and no JSON comes from"),
    ("crc32fast", "whole numbers only"),
    ("linux-raw-sys", "constants of the system"),
    ("instrument", "simulated instruments for the stories, a module more"),
    ("log", "nothing here logs"),
    ("num-traits", "`libm` beside `std`, where `std` is what is used"),
    ("rustix", "calls of the system"),
    ("simd-adler32", "whole numbers only"),
    ("syn", "only macros use it"),
    ("unicode-properties", "one table more"),
    ("toml_datetime", "no plan has a date and time of TOML"),
    ("toml_parser", "the same grammar, also without an allocator"),
    ("winnow", "its reader"),
    ("smallvec", "a container"),
];

fn cargo() -> Command {
    let mut command = Command::new(env!("CARGO"));
    command.current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."));
    command
}

/// Every crate of a build with its version, and its features.
fn features(of: &[&str]) -> BTreeMap<String, BTreeSet<String>> {
    let out = cargo()
        .args(["tree", "--offline", "--edges", "normal", "--prefix", "none", "--format", "{p}|{f}"])
        .args(of)
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let mut crates: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for line in String::from_utf8(out.stdout).unwrap().lines().filter(|line| !line.is_empty()) {
        let (name, features) = line.trim_end_matches(" (*)").split_once('|').unwrap();
        let name: Vec<&str> = name.split(' ').take(2).collect();
        let features = features.split(',').filter(|f| !f.is_empty()).map(str::to_owned);
        crates.entry(name.join(" ")).or_default().extend(features);
    }
    crates
}

#[test]
fn every_crate_has_the_same_features_alone_and_beside_the_window() {
    let (alone, beside) = (features(&["-p", "jigtrue"]), features(&["--workspace", "--exclude", "ratios"]));
    assert!(alone.len() > 100, "{} crates", alone.len());
    let other: Vec<&String> = alone
        .iter()
        .filter(|(name, features)| beside.get(*name) != Some(features))
        .map(|(name, _)| name)
        .filter(|name| !MAY_DIFFER.iter().any(|(known, _)| name.split(' ').next() == Some(known)))
        .collect();
    assert!(other.is_empty(), "these have other features beside the window: {other:?}");
}

/// Builds the program and copies it.
fn built(folder: &Path, name: &str, which: &[&str]) -> PathBuf {
    let out = cargo()
        .args(["build", "--quiet", "--offline", "--bin", "jigtrue", "--message-format", "json"])
        .args(if cfg!(debug_assertions) { &[][..] } else { &["--release"] })
        .args(which)
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let text = String::from_utf8(out.stdout).unwrap();
    let program = text
        .lines()
        .filter_map(|line| serde_json::from_str::<serde_json::Value>(line).ok())
        .find_map(|message| message["executable"].as_str().map(PathBuf::from))
        .unwrap();
    let kept = folder.join(name);
    std::fs::copy(program, &kept).unwrap();
    kept
}

/// The check, in JSON, and the sheet of every shipped case.
fn shown(program: &Path) -> Vec<Vec<u8>> {
    let mut all = Vec::new();
    for case in ["two-post", "hold", "sixty", "upright", "rigged"] {
        let folder = tempfile::tempdir().unwrap();
        let run = |line: &str| {
            let out =
                Command::new(program).args(line.split(' ')).current_dir(folder.path()).output().unwrap();
            assert!(matches!(out.status.code(), Some(0 | 10 | 11)), "{line}: {out:?}");
            out.stdout
        };
        run(&format!("demo --case {case}"));
        all.push(run("check demo.jigtrue --json"));
        run("sheet demo.jigtrue -o sheet.pdf");
        all.push(std::fs::read(folder.path().join("sheet.pdf")).unwrap());
    }
    all
}

#[test]
#[ignore = "builds the program twice: ./test --long"]
fn a_build_alone_and_a_build_with_the_window_give_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let alone = built(folder.path(), "alone", &["-p", "jigtrue"]);
    let beside = built(folder.path(), "beside", &["--workspace"]);
    let (alone, beside) = (shown(&alone), shown(&beside));
    assert_eq!(alone.len(), 10);
    for (at, (a, b)) in alone.iter().zip(&beside).enumerate() {
        assert!(a.len() > 1000, "case {at} is empty");
        assert!(a == b, "check or sheet number {at} differs");
    }
}
