//! A table of readings, all or nothing.

mod header;
mod patient;
mod row;

use super::Session;
use super::ask::{Asking, answered};
use super::rounds::Rounds;
use crate::SessionError;
use crate::clock::offset_here;
use header::Header;
use patient::Patient;
use record::{At, Instrument, Plan, What, When};
use row::{Line, Row};
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

/// A line read, or its number and what is wrong with it.
type Read = Result<Line, (u64, String)>;

/// Told lines done, bytes done and bytes in all; gives false to stop.
type Progress<'p> = &'p mut dyn FnMut(u64, u64, u64) -> bool;

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
    /// Memory does not grow with the table: lines are written as they are read, and taken back if a bad one comes.
    /// The session's entries are read back when it is next refreshed.
    ///
    /// # Errors
    /// When the table cannot be read or has bad lines, or the log cannot be written.
    pub fn import_csv(
        &mut self,
        table: &Path,
        progress: &mut dyn FnMut(u64, u64, u64),
    ) -> Result<ImportReport, SessionError> {
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
        progress: Progress<'_>,
    ) -> Result<ImportReport, SessionError> {
        self.refresh()?;
        let known = self.instruments();
        let by = self.person(None)?;
        let context = Context { plan: &self.plan, known: &known, by: &by, now: self.clock.now() };
        let rounds = Rounds::of(&self.entries);
        let asking = Asking::of(&self.plan, self.entries.iter());
        let (open, record) = (open(table)?, csv::StringRecord::new());
        let mut lines = Lines { table, open, record, rounds, asking, done: 0 };
        let mut first = lines.next(&context, progress)?;
        if first.is_none() {
            let why = "has a header and no readings".to_owned();
            return Err(SessionError::File { path: table.to_owned(), why });
        }
        let entries = std::iter::from_fn(|| {
            let row = first.take().map(Ok).or_else(|| lines.next(&context, progress).transpose())?;
            Some(row.map(|Line { at, by, reading, .. }| {
                (When { at, offset: offset_here(at) }, by, What::Reading(reading))
            }))
        });
        let head = self.journal.append_many::<When, String, SessionError>(entries)?;
        Ok(ImportReport { readings: lines.done, first: head.seq + 1 - lines.done, last: head.seq })
    }
}

/// The lines of a table, good ones one by one; at a bad one the others are looked at too, so that all are named.
struct Lines<'t> {
    table: &'t Path,
    open: Table,
    record: csv::StringRecord,
    rounds: Rounds,
    asking: Asking<'t>,
    done: u64,
}

impl Lines<'_> {
    fn next(&mut self, context: &Context<'_>, progress: Progress<'_>) -> Result<Option<Line>, SessionError> {
        match self.read(context, progress)? {
            None => Ok(None),
            Some(Ok(row)) => Ok(Some(row)),
            Some(Err(line_and_why)) => {
                let (mut bad, mut lines) = (1, vec![line_and_why]);
                while let Some(row) = self.read(context, progress)? {
                    if let Err(line_and_why) = row {
                        bad += 1;
                        lines.extend((lines.len() < MOST_NAMED).then_some(line_and_why));
                    }
                }
                Err(SessionError::Table { path: self.table.to_owned(), lines, bad })
            }
        }
    }

    fn read(&mut self, context: &Context<'_>, progress: Progress<'_>) -> Result<Option<Read>, SessionError> {
        let row = next_row(&mut self.open, &mut self.record, context);
        let row = row.map(|Numbered { line, row }| {
            row.and_then(|row| self.asked(row, context)).map_err(|why| (line, why))
        });
        self.done += u64::from(row.is_some());
        let told = self.done.is_multiple_of(TELL_EVERY) && row.is_some();
        if told && !progress(self.done, self.open.reader.position().byte(), self.open.bytes) {
            return Err(SessionError::refused("the import was stopped; nothing of the table was taken"));
        }
        Ok(row)
    }
}

impl Lines<'_> {
    /// The line with its round, and with the question that it answers with yes; in words, what would be asked about it.
    fn asked(&mut self, row: Row, context: &Context<'_>) -> Result<Line, String> {
        let mut line = row.line(&self.rounds);
        let instrument = line.reading.instrument.as_ref().and_then(|name| context.known.get(name));
        let question = self.asking.question(&line.reading, instrument).or(line.off_step.take());
        line.reading = answered(line.reading, question, line.sure).map_err(|why| match why {
            SessionError::Asks(question) => {
                format!("{}; if it really is so, write yes in a column `sure`", question.why)
            }
            _ => "nothing would be asked about this value; leave its `sure` empty".to_owned(),
        })?;
        self.asking.saw(&line.reading);
        self.rounds.saw_reading(line.at, &line.reading);
        Ok(line)
    }
}

/// A line of the table with its number.
struct Numbered {
    line: u64,
    row: Result<Row, String>,
}

fn open(path: &Path) -> Result<Table, SessionError> {
    let unread = |e: std::io::Error| SessionError::io(path, "the table cannot be read", e);
    let file = File::open(path).map_err(unread)?;
    let meta = file.metadata().map_err(unread)?;
    if !meta.is_file() {
        return Err(SessionError::File { path: path.to_owned(), why: "is not a plain file".to_owned() });
    }
    if meta.len() == 0 {
        return Err(SessionError::File { path: path.to_owned(), why: "is empty and not a table".to_owned() });
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
            SessionError::File { path: PathBuf::from(path), why: format!("its header cannot be used: {why}") }
        })?;
    Ok(Table { reader, header, bytes: meta.len() })
}

/// The next line that is not a comment, read; `None` at the end.
fn next_row(table: &mut Table, record: &mut csv::StringRecord, context: &Context<'_>) -> Option<Numbered> {
    table.reader.get_mut().begin();
    let read = table.reader.read_record(record);
    // The last byte of the record, or of what ends it.
    let last = table.reader.position().byte().saturating_sub(1);
    let within = record.iter().map(|field| field.matches('\n').count() as u64).sum::<u64>();
    let line = table.reader.get_mut().line_of(last).saturating_sub(within);
    match read {
        Ok(false) => None,
        Ok(true) => Some(Numbered { line, row: Row::read(record, &table.header, context) }),
        Err(e) => Some(Numbered { line, row: Err(header::csv_trouble(&e)) }),
    }
}
