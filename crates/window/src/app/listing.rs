//! Logs, plans and tables as rows of a list, and why one cannot be opened.

use super::keep::KeptLog;
use record::calendar;
use session::browse::{self, LogSummary, Unopened};
use std::io;
use std::path::Path;
use window::action::Files;
use window::model::{Listing, LogRow, Place};

fn stem(path: &Path) -> String {
    path.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}

fn with(row: LogRow, summary: Result<Option<LogSummary>, Unopened>) -> LogRow {
    match summary {
        Ok(Some(s)) => {
            let last = s.last.map_or_else(
                || "no reading yet".to_owned(),
                |l| format!("last reading {}, {}", calendar::full(&l.when), l.by),
            );
            LogRow { wing: s.wing, stage: s.stage, last, gate: Some(s.gate), problem: None, ..row }
        }
        Ok(None) => LogRow { stage: "a large log".to_owned(), ..row },
        Err(why) => LogRow { problem: Some(why.to_string()), ..row },
    }
}

pub fn recent(log: &KeptLog) -> LogRow {
    let path = Path::new(&log.path);
    let row =
        LogRow { path: log.path.clone(), file: stem(path), wing: log.wing.clone(), ..LogRow::default() };
    with(row, browse::summary(path))
}

/// What a folder holds.
///
/// # Errors
/// If it cannot be read.
pub fn folder(path: &str, files: Files, home: &str) -> io::Result<Listing> {
    let here = Path::new(path);
    let ending = match files {
        Files::Logs => "jigtrue",
        Files::Plans => "toml",
        Files::Tables => "csv",
    };
    let found = browse::folder(here, ending)?;
    let text = |p: &Path| p.display().to_string();
    let row = |p: &std::path::PathBuf| {
        let row = LogRow { path: text(p), file: stem(p), ..LogRow::default() };
        match files {
            Files::Logs => with(row, browse::summary(p)),
            Files::Plans | Files::Tables => row,
        }
    };
    let mut places = vec![Place { name: "This machine".to_owned(), path: home.to_owned() }];
    let stick = browse::sticks().into_iter().next();
    places.extend(stick.map(|p| Place { name: "Stick".to_owned(), path: text(&p) }));
    Ok(Listing {
        folder: path.to_owned(),
        above: found.above.as_deref().filter(|p| !p.as_os_str().is_empty()).map(text),
        folders: found.folders.iter().map(|p| text(p)).collect(),
        files: found.files.iter().map(row).collect(),
        places,
    })
}
