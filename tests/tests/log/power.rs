//! The power fails at any instant: every acknowledged entry and file is there, whole, and the log opens without
//! repair.
//!
//! Long: `./test --long --test log power`.
#![cfg(target_os = "linux")]

use journal::Journal;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use stories::invented::reading;
use stories::power::{Change, Disk, content, read};
use stories::seeded::Draws;

/// What the program does to the disk, and where.
struct Recorded {
    folder: PathBuf,
    changes: Vec<Change>,
}

fn recorded() -> Recorded {
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap();
    let there = folder.path().canonicalize().unwrap();
    let (inside, trace) = (there.join("in"), there.join("trace"));
    fs::create_dir(&inside).unwrap();
    let out = Command::new(env!("CARGO_BIN_EXE_recorded"))
        .arg(&inside)
        .env("RECORD_TRACE", &trace)
        .env("RECORD_UNDER", &inside)
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let changes = read(&fs::read(&trace).unwrap());
    let said = changes.iter().filter(|c| matches!(c, Change::Said(_))).count();
    assert_eq!(said, String::from_utf8(out.stdout).unwrap().lines().count());
    Recorded { folder: inside, changes }
}

/// What was acknowledged.
#[derive(Clone, Debug, Default)]
struct Acknowledged {
    entries: u64,
    copy: u64,
    files: BTreeMap<String, u64>,
}

impl Acknowledged {
    fn said(&mut self, line: &str) {
        let words: Vec<&str> = line.split_whitespace().collect();
        let number = |text: &str| text.parse::<u64>().unwrap();
        match words.as_slice() {
            ["entries", n] => self.entries = number(n),
            ["copy", n] => self.copy = number(n),
            ["file", name, n] => {
                self.files.insert((*name).to_owned(), number(n));
            }
            other => unreachable!("{other:?}"),
        }
    }
}

/// Every acknowledged entry is in the log, in order, and its chain is whole.
fn log_holds(log: &Path, acknowledged: u64) -> Result<(), String> {
    let journal = match Journal::open(log) {
        Ok(journal) => journal,
        Err(_) if acknowledged == 0 => return Ok(()),
        Err(why) => return Err(format!("does not open: {why}")),
    };
    let found = journal.verify().map_err(|why| why.to_string())?.seq;
    if found < acknowledged {
        return Err(format!("{found} entries of {acknowledged} acknowledged"));
    }
    let whats = journal.entries().skip(1).map(|e| e.map(|e| e.what).ok());
    if whats.eq((1..found).map(|n| Some(reading(n)))) { Ok(()) } else { Err("other entries".to_owned()) }
}

/// A file is there as acknowledged, or as about to be; before its acknowledgement it may also be missing.
fn file_holds(path: &Path, acknowledged: Option<u64>) -> Result<(), String> {
    let Ok(found) = fs::read(path) else {
        return if acknowledged.is_none() { Ok(()) } else { Err("is gone".to_owned()) };
    };
    let least = acknowledged.unwrap_or(0);
    if (least..least + 2).any(|n| found == content(n)) { Ok(()) } else { Err("is half written".to_owned()) }
}

/// Makes the state on a real file system and reads it as the program would.
fn holds(at: &Recorded, state: &BTreeMap<PathBuf, Vec<u8>>, safe: &Acknowledged) -> Result<(), String> {
    // In memory if possible: nothing here has to survive.
    let memory = Path::new("/dev/shm");
    let folder = if memory.is_dir() { tempfile::tempdir_in(memory) } else { tempfile::tempdir() }.unwrap();
    for (path, bytes) in state {
        fs::write(folder.path().join(path.strip_prefix(&at.folder).unwrap()), bytes).unwrap();
    }
    let there = |name: &str| folder.path().join(name);
    log_holds(&there("a.jigtrue"), safe.entries).map_err(|why| format!("the log {why}"))?;
    // A copy is moved into place whole, so it is complete as soon as it has its name.
    if there("copy.jigtrue").exists() || safe.copy > 0 {
        log_holds(&there("copy.jigtrue"), safe.copy.max(1)).map_err(|why| format!("the copy {why}"))?;
    }
    for name in ["sheet.pdf", "orla.key"] {
        file_holds(&there(name), safe.files.get(name).copied()).map_err(|why| format!("{name} {why}"))?;
    }
    Ok(())
}

/// Cuts the power after each change, `cuts` times with different parts of what is uncertain. Returns how many states
/// were tried.
fn cut_everywhere(at: &Recorded, cuts: u64, seed: u64) -> Result<u64, String> {
    let (mut disk, mut safe, mut draws) = (Disk::default(), Acknowledged::default(), Draws::new(seed));
    let mut tried = 0;
    for (n, change) in at.changes.iter().enumerate() {
        disk.change(change);
        if let Change::Said(line) = change {
            safe.said(line);
        }
        // All of it, nothing of it, and parts.
        let shares =
            [16, 0].into_iter().chain((0..cuts).map(|i| [2, 8, 14][usize::try_from(i % 3).unwrap_or(0)]));
        for share in shares.take(if disk.uncertain() == 0 { 1 } else { usize::MAX }) {
            let state = disk.after_a_cut(&mut draws, share);
            tried += 1;
            holds(at, &state, &safe).map_err(|why| format!("cut after change {n} ({share} of 16): {why}"))?;
        }
    }
    Ok(tried)
}

fn cut(cuts: u64) {
    let at = recorded();
    assert!(at.changes.len() > 100, "the recorder sees what the program does");
    let tried = cut_everywhere(&at, cuts, 71).unwrap();
    println!("{} changes, {tried} states after a power cut: nothing acknowledged was lost", at.changes.len());
}

#[test]
fn the_power_fails_after_any_change() {
    cut(1);
}

#[test]
#[ignore = "long"]
fn the_power_fails_after_any_change_in_dozens_of_ways() {
    cut(40);
}

/// Which flushes are left out, by the name of their file.
type Without<'a> = &'a dyn Fn(&str) -> bool;

/// The story can fail: it notices whatever the program does not flush. Without any flush this is `synchronous=OFF`.
#[test]
fn a_program_that_does_not_flush_would_be_found() {
    let at = recorded();
    let is = |change: &Change, wanted: &dyn Fn(&str) -> bool| match change {
        Change::Synced(path) => wanted(path.strip_prefix(&at.folder).unwrap().to_str().unwrap()),
        _ => false,
    };
    let lacking: [(&str, Without<'_>); 6] = [
        ("anything", &|_| true),
        ("the part beside the log", &|name| name.ends_with("-wal")),
        ("what a long import is taken back by", &|name| name.ends_with("-journal")),
        ("the log when parts are merged into it", &|name| name == "a.jigtrue"),
        ("a file before it is moved into place", &|name| name.starts_with(".jigtrue-part-")),
        ("the names in the folder", &str::is_empty),
    ];
    for (what, without) in lacking {
        let changes = at.changes.iter().filter(|c| !is(c, without)).cloned().collect();
        let lazy = Recorded { folder: at.folder.clone(), changes };
        let found = (1..6).find_map(|seed| cut_everywhere(&lazy, 6, seed).err());
        assert!(found.is_some(), "nobody would notice that {what} is not brought to disk");
        println!("{what} not brought to disk: {}", found.unwrap_or_default());
    }
}
