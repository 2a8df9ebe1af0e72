//! The Debian package: built twice to the same bytes, complete, installed, used through the desktop, and removed
//! without a trace.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a story stops where something is missing"
)]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use stories::program::jigtrue;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn skip(why: &str) {
    let line = format!("\n*** SKIPPED: {why} ***\n");
    let _ = std::io::stderr().write_all(line.as_bytes());
}

fn has(program: &str) -> bool {
    Command::new(program).arg("--version").output().is_ok_and(|out| out.status.success())
}

/// The window beside the program under test, built like it. `JIGTRUE_WINDOW=FILE` uses one already built.
fn window() -> PathBuf {
    if let Some(window) = std::env::var_os("JIGTRUE_WINDOW") {
        return PathBuf::from(window);
    }
    let window = jigtrue().with_file_name("jigtrue-window");
    let out = Command::new(env!("CARGO"))
        .args([
            "build",
            "--quiet",
            "--workspace",
            "--exclude",
            "ratios",
            "--bin",
            "jigtrue-window",
            "--test",
            "architecture",
        ])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(out.status.success() && window.exists(), "{}", String::from_utf8_lossy(&out.stderr));
    window
}

fn built(into: &Path) -> PathBuf {
    let programs = window().parent().unwrap().to_owned();
    let out = Command::new(root().join("packaging/deb"))
        .arg(into)
        .env("PROGRAMS", programs)
        .env("SOURCE_DATE_EPOCH", "1900000000")
        .env("COMPRESS", "none")
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    PathBuf::from(String::from_utf8(out.stdout).unwrap().lines().last().unwrap())
}

fn text(out: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&out.stdout), String::from_utf8_lossy(&out.stderr))
}

#[test]
fn the_package_holds_everything_and_can_be_used() {
    if !has("dpkg-deb") || !has("strip") {
        skip("the package is built where dpkg-deb and strip are");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let deb = built(&folder.path().join("one"));
    let again = built(&folder.path().join("two"));
    assert!(std::fs::read(&deb).unwrap() == std::fs::read(&again).unwrap(), "two builds give other bytes");
    let out = Command::new("dpkg-deb").arg("--contents").arg(&deb).output().unwrap();
    let inside = text(&out);
    for file in [
        "usr/bin/jigtrue",
        "usr/bin/jigtrue-window",
        "usr/share/man/man1/jigtrue.1.gz",
        "usr/share/man/man1/jigtrue-series.1.gz",
        "usr/share/man/man1/jigtrue-window.1.gz",
        "usr/share/bash-completion/completions/jigtrue",
        "usr/share/zsh/vendor-completions/_jigtrue",
        "usr/share/fish/vendor_completions.d/jigtrue.fish",
        "usr/share/applications/jigtrue.desktop",
        "usr/share/mime/packages/jigtrue.xml",
        "usr/share/icons/hicolor/scalable/apps/jigtrue.svg",
        "usr/share/icons/hicolor/16x16/mimetypes/application-x-jigtrue.svg",
        "usr/share/doc/jigtrue/README.md",
        "usr/share/doc/jigtrue/docs/many-wings.sql",
        "usr/share/doc/jigtrue/docs/reference.md",
        "usr/share/doc/jigtrue/copyright",
    ] {
        assert!(inside.lines().any(|l| l.ends_with(&format!("./{file}"))), "{file} is missing in\n{inside}");
    }
    assert!(inside.lines().all(|l| l.contains("root/root")), "{inside}");
    assert!(inside.lines().all(|l| !l.contains("-w- ") && !l.contains("rwxrwxrwx")), "{inside}");
    let tried = Command::new(root().join("packaging/try")).arg(&deb).output().unwrap();
    print!("{}", text(&tried));
    for line in text(&tried).lines().filter(|l| l.starts_with("SKIPPED")) {
        skip(line.trim_start_matches("SKIPPED: "));
    }
    assert!(tried.status.success(), "{}", text(&tried));
}

/// Every crate of the programs is in the licences, each with a text that exists.
#[test]
fn the_licences_name_every_crate() {
    let out = Command::new(root().join("packaging/licences")).output().unwrap();
    let said = text(&out);
    assert!(out.status.success(), "{said}");
    for part in ["MIT", "eframe v", "rusqlite v", "parquet v", "krilla v", "Apache License", "SIL OPEN FONT"]
    {
        assert!(said.contains(part), "{part}");
    }
    assert!(said.len() > 50_000, "{}", said.len());
}
