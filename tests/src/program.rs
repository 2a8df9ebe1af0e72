//! The program `jigtrue`, built once for all stories of a run.

use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

/// The program's path. `JIGTRUE_PROGRAM=FILE` uses one already built.
///
/// It is built together with a test of the workspace, so that cargo gives every crate the same features as in the
/// tests and compiles none twice.
///
/// # Panics
/// If it does not build.
#[must_use]
pub fn jigtrue() -> &'static Path {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM.get_or_init(|| std::env::var_os("JIGTRUE_PROGRAM").map_or_else(built, PathBuf::from))
}

fn built() -> PathBuf {
    let out = Command::new(env!("CARGO"))
        .args(["build", "--quiet", "--workspace", "--bin", "jigtrue", "--test", "architecture"])
        .args(["--message-format", "json"])
        // A story in a release build tests the release program.
        .args(if cfg!(debug_assertions) { &[][..] } else { &["--release"] })
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stderr(Stdio::inherit())
        .output()
        .expect("cargo runs");
    assert!(out.status.success(), "the program does not build");
    String::from_utf8(out.stdout)
        .expect("cargo writes UTF-8")
        .lines()
        .filter_map(|line| serde_json::from_str::<Value>(line).ok())
        .filter(|message| message["target"]["name"] == "jigtrue")
        .find_map(|message| message["executable"].as_str().map(PathBuf::from))
        .expect("cargo names the program it built")
}
