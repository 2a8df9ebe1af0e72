//! Logs near at hand: what a name may be completed to where none is given.

use std::path::{Path, PathBuf};

/// The ending of a log's name.
pub const LOG_ENDING: &str = "jigtrue";

/// The logs of a folder by their ending, in the order of their names; none where the folder cannot be read.
#[must_use]
pub fn logs_in(folder: &Path) -> Vec<PathBuf> {
    let mut logs: Vec<PathBuf> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .filter_map(Result::ok)
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|e| e == LOG_ENDING) && is_file(path))
        .collect();
    logs.sort();
    logs
}

/// True where there is a plain file.
#[must_use]
pub fn is_file(path: &Path) -> bool {
    path.is_file()
}
