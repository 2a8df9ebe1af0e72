//! Whole processes: the demo's `check`, start-up, memory, and the size of what is shipped.

use crate::row::{Aim, Row, in_turns};
use crate::{Extent, Failure};
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// A program that was built beside this one.
pub fn beside(name: &str) -> PathBuf {
    std::env::current_exe().ok().and_then(|me| Some(me.parent()?.join(name))).unwrap_or_else(|| name.into())
}

/// The program itself.
pub fn jigtrue() -> PathBuf {
    beside("jigtrue")
}

/// What a command prints; a verdict is not a failure.
pub fn answer(command: &mut Command) -> Result<String, Failure> {
    let out = command.stdin(Stdio::null()).output().map_err(|e| format!("{command:?}: {e}"))?;
    match out.status.code() {
        Some(0 | 10 | 11) => Ok(String::from_utf8_lossy(&out.stdout).into_owned()),
        _ => Err(format!("{command:?}: {}", String::from_utf8_lossy(&out.stderr)).into()),
    }
}

/// The most memory a program has had.
pub fn peak_kib(program: impl AsRef<OsStr>, arguments: &[&OsStr]) -> Result<u64, Failure> {
    let out = Command::new(beside("weighed")).arg(program).args(arguments).output()?;
    let said = String::from_utf8_lossy(&out.stderr).into_owned();
    if !out.status.success() {
        return Err(said.into());
    }
    Ok(said.trim_end().lines().last().unwrap_or_default().parse()?)
}

/// A Python that has numpy and scipy.
pub fn python() -> Option<&'static str> {
    ["python3", "/usr/bin/python3"]
        .into_iter()
        .find(|python| answer(Command::new(python).args(["-c", "import numpy, scipy, tomllib"])).is_ok())
}

/// A script of `rivals/`.
pub fn rival(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("rivals").join(name)
}

/// The rows of whole processes, on the demo's log in `folder`.
pub fn rows(extent: Extent, folder: &Path) -> Result<Vec<Row>, Failure> {
    let log = folder.join("demo.jigtrue");
    let check = || Command::new(jigtrue()).args(["check", "--json"]).arg(&log).output().is_ok();
    let read = || Command::new(beside("bare")).arg("read").arg(&log).output().is_ok();
    let rounds = extent.of(41, 11);

    let mut rows = Vec::new();
    let verify = || Command::new(jigtrue()).arg("verify").arg(&log).output().is_ok();
    let pair = in_turns(rounds, || _ = verify(), || _ = read());
    rows.push(Row::of_times(
        "verify, start to end",
        "bare clap + rusqlite reading it",
        pair,
        Aim::AtMost(1.5),
    ));
    let pair = in_turns(rounds, || _ = check(), || _ = read());
    rows.push(Row::of_times(
        "check --json, start to end",
        "bare clap + rusqlite reading it",
        pair,
        Aim::AtMost(2.0),
    ));

    if let Some(python) = python() {
        let (plan, table) = (folder.join("plan.toml"), folder.join("readings.csv"));
        let plan_text = include_str!("../../../demo-readings/two-post/plan.toml");
        std::fs::write(&plan, plan_text)?;
        answer(Command::new(jigtrue()).arg("export").arg(&log).arg("-o").arg(&table))?;
        let arguments =
            [rival("check.py").into_os_string(), plan.into(), table.into(), "ready to skin".into()];
        let theirs = || Command::new(python).args(&arguments).output().is_ok();
        same_answers(
            &answer(Command::new(jigtrue()).args(["check", "--json"]).arg(&log))?,
            &answer(Command::new(python).args(&arguments))?,
        )?;
        let pair = in_turns(extent.of(11, 3), || _ = check(), || _ = theirs());
        rows.push(Row::of_times("check --json", "numpy + scipy, the twist alone", pair, Aim::AtLeast(60.0)));
        let words: Vec<&OsStr> = arguments.iter().map(AsRef::as_ref).collect();
        let ours = peak_kib(jigtrue(), &["check".as_ref(), "--json".as_ref(), log.as_ref()])? as f64;
        let memory = (ours, peak_kib(python, &words)? as f64);
        let mib = |kib: f64| format!("{:.1} MiB", kib / 1024.0);
        rows.push(Row::of(
            "check --json, most memory",
            "numpy + scipy, the twist alone",
            memory,
            Aim::AtLeast(10.0),
            mib,
        ));
    } else {
        eprintln!(
            "SKIPPED: no python3 with numpy and scipy (Debian: apt-get install python3-numpy python3-scipy)"
        );
    }

    let size = |path: &Path| std::fs::metadata(path).map(|found| found.len() as f64);
    let sizes = (size(&jigtrue())?, size(&beside("bare"))?);
    let megabytes = |bytes: f64| format!("{:.2} MB", bytes / 1e6);
    rows.push(Row::of("jigtrue, stripped", "bare clap + rusqlite", sizes, Aim::AtMost(2.0), megabytes));
    Ok(rows)
}

/// A rival that answers something else does not count.
fn same_answers(ours: &str, theirs: &str) -> Result<(), Failure> {
    let ours: serde_json::Value = serde_json::from_str(ours)?;
    let theirs: serde_json::Value = serde_json::from_str(theirs)?;
    for pointer in [
        "/order",
        "/chi2",
        "/setting/value",
        "/setting/u",
        "/washout_error/value",
        "/washout_error/u",
        "/stations/7/u_deg",
        "/stations/11/twist_error_deg",
        "/band/40/fit_deg",
    ] {
        let number = |json: &serde_json::Value| json.pointer(pointer).and_then(serde_json::Value::as_f64);
        match (number(&ours["twist"]), number(&theirs)) {
            // Our side combines scales that hardly differ.
            (Some(a), Some(b)) if (a - b).abs() < 1e-9 + 2e-4 * b.abs() => {}
            pair => return Err(format!("the rival answers something else at {pointer}: {pair:?}").into()),
        }
    }
    Ok(())
}
