//! Which log is meant if none is named: the one in `JIGTRUE_LOG`, else the only one in the folder.

use crate::nearby;
use std::path::{Path, PathBuf};

pub const VARIABLE: &str = "JIGTRUE_LOG";

/// The log that is meant, or why none is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Which {
    /// The environment names it.
    Variable(PathBuf),
    Only(PathBuf),
    NoneHere,
    /// The folder has several, by name; none is guessed.
    Several(Vec<PathBuf>),
}

pub fn which(folder: &Path) -> Which {
    if let Some(named) = std::env::var_os(VARIABLE).filter(|name| !name.is_empty()) {
        return Which::Variable(PathBuf::from(named));
    }
    let here = nearby::logs_in(folder).into_iter().map(|log| match log.strip_prefix(".") {
        Ok(name) => name.to_owned(),
        Err(_) => log,
    });
    let mut logs: Vec<PathBuf> = here.collect();
    match logs.len() {
        0 => Which::NoneHere,
        1 => Which::Only(logs.remove(0)),
        _ => Which::Several(logs),
    }
}
