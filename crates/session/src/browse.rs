//! Lists what can be opened in a folder, for people who choose a file by hand.

use crate::{Session, SessionError};
use record::{GateState, What};
use std::io;
use std::path::{Path, PathBuf};

/// The most files and folders listed from one folder.
const MOST: usize = 500;
/// Larger logs, in bytes, are listed without being opened.
const LARGE: u64 = 64 * 1024 * 1024;

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Folder {
    /// The folder above it, if there is one.
    pub above: Option<PathBuf>,
    /// Folders in it, by name; hidden ones are left out.
    pub folders: Vec<PathBuf>,
    /// Plain files in it with the requested ending, by name.
    pub files: Vec<PathBuf>,
}

/// Lists the files with this ending (`jigtrue`, without the dot) in a folder.
///
/// # Errors
/// If the folder cannot be read.
pub fn folder(path: &Path, ending: &str) -> io::Result<Folder> {
    let mut out = Folder { above: path.parent().map(Path::to_owned), ..Folder::default() };
    for entry in std::fs::read_dir(path)?.flatten() {
        let file = entry.path();
        let hidden = entry.file_name().to_string_lossy().starts_with('.');
        if hidden {
            continue;
        }
        if file.is_dir() {
            out.folders.push(file);
        } else if file.is_file() && file.extension().is_some_and(|e| e == ending) {
            out.files.push(file);
        }
    }
    out.folders.sort();
    out.files.sort();
    out.folders.truncate(MOST);
    out.files.truncate(MOST);
    Ok(out)
}

/// A log at a glance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogSummary {
    pub wing: String,
    /// The stage it is at, its number among the plan's, and how many there are.
    pub stage: String,
    /// When and by whom the last reading was taken; `None` without a reading.
    pub last: Option<LastReading>,
    pub gate: GateState,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LastReading {
    /// When, by its writer's clock.
    pub when: String,
    pub by: String,
}

/// Opens a log for reading and summarises it; `None` if it is too large to open just for a list.
///
/// # Errors
/// Why it cannot be opened.
pub fn summary(log: &Path) -> Result<Option<LogSummary>, Unopened> {
    let size = std::fs::metadata(log).map_err(|why| Unopened::by(log, why))?.len();
    if size > LARGE {
        return Ok(None);
    }
    let session = Session::open_read_only(log)
        .map_err(|why| Unopened::Log { log: log.to_owned(), why: Box::new(why) })?;
    let a = session.assessment();
    let stage = match (&a.stage, &a.stage_number) {
        (Some(name), Some(n)) => format!("stage {} of {}, {name}", n.number, n.of),
        (Some(name), None) => name.clone(),
        _ => "no stage begun".to_owned(),
    };
    let last = session.entries().iter().rev().find(|e| matches!(e.what, What::Reading(_)));
    let last = last.map(|e| LastReading { when: e.when().to_string(), by: e.by.clone() });
    Ok(Some(LogSummary { wing: session.plan().wing.name.clone(), stage, last, gate: a.gate.state }))
}

/// Why a log in a list cannot be opened, without its path, which the list shows already.
#[derive(Debug, thiserror::Error)]
pub enum Unopened {
    #[error("not found: the stick is out, or the folder is gone")]
    FolderGone(#[source] io::Error),
    #[error("not found")]
    NotFound(#[source] io::Error),
    #[error("permission denied")]
    Denied(#[source] io::Error),
    #[error("cannot be read")]
    Unread(#[source] io::Error),
    #[error("{}", without_path(.why, .log))]
    Log {
        log: PathBuf,
        #[source]
        why: Box<SessionError>,
    },
}

impl Unopened {
    fn by(log: &Path, why: io::Error) -> Self {
        let folder_gone = log.parent().is_some_and(|p| !p.as_os_str().is_empty() && !p.exists());
        match why.kind() {
            io::ErrorKind::NotFound if folder_gone => Self::FolderGone(why),
            io::ErrorKind::NotFound => Self::NotFound(why),
            io::ErrorKind::PermissionDenied => Self::Denied(why),
            _ => Self::Unread(why),
        }
    }
}

fn without_path(why: &SessionError, log: &Path) -> String {
    let path = log.display().to_string();
    why.to_string().replace(&format!("{path}: "), "").replace(&path, "it")
}

/// Places to start looking: USB sticks that are plugged in.
pub fn sticks() -> Vec<PathBuf> {
    let inside = |p: &Path| -> Vec<PathBuf> {
        std::fs::read_dir(p)
            .map(|d| d.flatten().map(|e| e.path()).filter(|p| p.is_dir()).collect())
            .unwrap_or_default()
    };
    let mut out = Vec::new();
    for root in ["/media", "/run/media"] {
        for user in inside(Path::new(root)) {
            let deeper = inside(&user);
            out.extend(if deeper.is_empty() { vec![user] } else { deeper });
        }
    }
    out.sort();
    out
}
