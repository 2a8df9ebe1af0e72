//! Logs nearby, for completing a name or if none is given.

use quantity::nearest_of;
use std::path::{Path, PathBuf};

pub const LOG_ENDING: &str = "jigtrue";

/// The logs of a folder, recognised by their ending, in name order; empty if the folder cannot be read.
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

/// For a name that is not a log: the log in the same folder with the most similar name.
pub fn like(named: &Path) -> Option<PathBuf> {
    let folder = named.parent().filter(|folder| !folder.as_os_str().is_empty());
    let name = |path: &Path| path.file_name().map(|name| name.to_string_lossy().into_owned());
    let logs = logs_in(folder.unwrap_or_else(|| Path::new(".")));
    let stem = |name: &str| name.trim_end_matches(LOG_ENDING).trim_end_matches('.').to_owned();
    let wanted = stem(&name(named)?);
    let near = nearest_of(&wanted, logs.iter().filter_map(|log| name(log)).map(|log| stem(&log)))?;
    let found = logs.into_iter().find(|log| name(log).is_some_and(|log| stem(&log) == near))?;
    Some(
        folder.map_or_else(|| found.file_name().map(PathBuf::from), |_| Some(found.clone())).unwrap_or(found),
    )
}

pub fn is_folder(path: &Path) -> bool {
    path.is_dir()
}

pub fn is_there(path: &Path) -> bool {
    path.exists()
}

pub fn is_file(path: &Path) -> bool {
    path.is_file()
}
