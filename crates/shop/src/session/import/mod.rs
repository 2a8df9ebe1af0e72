//! A table of readings, all or nothing.

mod header;
mod patient;
mod row;

use super::Session;
use super::rounds::Rounds;
use crate::ShopError;
use header::Header;
use patient::Patient;
use record::{At, Instrument, Plan, What};
use row::Row;
use std::collections::BTreeMap;
use std::fs::File;
use std::path::{Path, PathBuf};

/// So many bad lines are named.
const MOST_NAMED: usize = 20;
/// Progress is told every so many lines.
const TELL_EVERY: u64 = 4096;

/// What came of an import.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ImportReport {
    /// Readings taken.
    pub readings: u64,
    /// Number of the first entry written.
    pub first: u64,
    /// Number of the last entry written.
    pub last: u64,
}

/// What a line is read against.
struct Context<'a> {
    plan: &'a Plan,
    known: &'a BTreeMap<String, Instrument>,
    by: &'a str,
    now: At,
}

/// An open table.
struct Table {
    reader: csv::Reader<Patient>,
    header: Header,
    bytes: u64,
}

impl Session {
    /// Takes a table of readings, all or nothing. `progress` gets lines done, and bytes done of bytes in all.
    ///
    /// The table is read twice, first to look at every line and then to write, so that memory does not grow with it.
    /// The session's entries are read back when it is next refreshed.
    ///
    /// # Errors
    /// When the table cannot be read or has bad lines, or the log cannot be written.
    pub fn import_csv(
        &mut self,
        table: &Path,
        progress: &mut dyn FnMut(u64, u64, u64),
    ) -> Result<ImportReport, ShopError> {
        self.import_csv_while(table, &mut |lines, done, of| {
            progress(lines, done, of);
            true
        })
    }

    /// The same for as long as `progress` gives true; if it gives false, nothing of the table is taken.
    ///
    /// # Errors
    /// As [`Self::import_csv`], and when it was stopped.
    pub fn import_csv_while(
        &mut self,
        table: &Path,
        progress: &mut dyn FnMut(u64, u64, u64) -> bool,
    ) -> Result<ImportReport, ShopError> {
        self.refresh()?;
        let known = self.instruments();
        let by = self.person(None)?;
        let context = Context { plan: &self.plan, known: &known, by: &by, now: self.clock.now() };
        let rows = look(table, &context, progress)?;
        if rows == 0 {
            return Err(ShopError::File {
                path: table.to_owned(),
                why: "has a header and no readings".to_owned(),
            });
        }
        let mut rounds = Rounds::of(&self.entries);
        let mut open = open(table)?;
        let mut done = 0;
        let mut record = csv::StringRecord::new();
        let entries = std::iter::from_fn(|| {
            let row = match next_row(&mut open, &mut record, &context)? {
                Ok(row) => row,
                Err((line, why)) => return Some(Err(changed(table, line, &why))),
            };
            done += 1;
            let read = open.bytes + open.reader.position().byte();
            if done % TELL_EVERY == 0 && !progress(done, read, 2 * open.bytes) {
                return Some(Err(stopped()));
            }
            let (at, by, reading) = row.reading(&rounds);
            let what = What::Reading(reading);
            rounds.saw(at, &what);
            Some(Ok((at, by, what)))
        });
        let head = self.journal.append_many::<String, ShopError>(entries)?;
        Ok(ImportReport { readings: done, first: head.seq + 1 - done, last: head.seq })
    }
}

/// Looks at every line; counts them, or names the bad ones.
fn look(
    table: &Path,
    context: &Context<'_>,
    progress: &mut dyn FnMut(u64, u64, u64) -> bool,
) -> Result<u64, ShopError> {
    let mut open = open(table)?;
    let mut record = csv::StringRecord::new();
    let (mut rows, mut bad, mut named) = (0_u64, 0_u64, Vec::new());
    while let Some(row) = next_row(&mut open, &mut record, context) {
        rows += 1;
        if let Err(line_and_why) = row {
            bad += 1;
            if named.len() < MOST_NAMED {
                named.push(line_and_why);
            }
        }
        if rows % TELL_EVERY == 0 && !progress(rows, open.reader.position().byte(), 2 * open.bytes) {
            return Err(stopped());
        }
    }
    if bad > 0 {
        return Err(ShopError::Table { path: table.to_owned(), lines: named, bad });
    }
    Ok(rows)
}

fn stopped() -> ShopError {
    ShopError::refused("the import was stopped; nothing of the table was taken")
}

fn open(path: &Path) -> Result<Table, ShopError> {
    let unread = |e: std::io::Error| ShopError::file(path, "the table cannot be read", &e);
    let file = File::open(path).map_err(unread)?;
    let meta = file.metadata().map_err(unread)?;
    if !meta.is_file() {
        return Err(ShopError::File {
            path: path.to_owned(),
            why: "is not a plain file; a table is read twice".to_owned(),
        });
    }
    if meta.len() == 0 {
        return Err(ShopError::File { path: path.to_owned(), why: "is empty and not a table".to_owned() });
    }
    let first = header::first_line(&file).map_err(unread)?;
    let delimiter = header::delimiter(&first);
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .delimiter(delimiter)
        .trim(csv::Trim::All)
        .from_reader(Patient::new(File::open(path).map_err(unread)?));
    let header =
        reader.headers().map_err(|e| header::csv_trouble(&e)).and_then(Header::read).map_err(|why| {
            ShopError::File { path: PathBuf::from(path), why: format!("its header cannot be used: {why}") }
        })?;
    Ok(Table { reader, header, bytes: meta.len() })
}

/// The next line that is not a comment, read; `None` at the end.
fn next_row(
    table: &mut Table,
    record: &mut csv::StringRecord,
    context: &Context<'_>,
) -> Option<Result<Row, (u64, String)>> {
    table.reader.get_mut().begin();
    match table.reader.read_record(record) {
        Ok(false) => None,
        Ok(true) => {
            let line = record.position().map_or(0, csv::Position::line);
            Some(Row::read(record, &table.header, context).map_err(|why| (line, why)))
        }
        Err(e) => {
            let line = e.position().map_or_else(|| table.reader.position().line(), csv::Position::line);
            Some(Err((line, header::csv_trouble(&e))))
        }
    }
}

fn changed(table: &Path, line: u64, why: &str) -> ShopError {
    ShopError::File {
        path: table.to_owned(),
        why: format!("changed while it was read (line {line}: {why}); nothing was taken"),
    }
}
