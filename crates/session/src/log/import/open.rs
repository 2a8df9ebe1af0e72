//! Opens a table and reads its rows: CSV from a file or standard input, or an export as JSON Lines.

use super::comma::Mark;
use super::context::Context;
use super::exported;
use super::fault::LineFault;
use super::header::{self, Header};
use super::patient::Patient;
use super::row::Row;
use crate::file_fault::FileFault;
use crate::{Cannot, FileSort, SessionError};
use memchr::memchr_iter;
use std::fs::File;
use std::io::{self, BufRead, BufReader, Cursor, Read};
use std::path::Path;

pub(super) struct Table {
    rows: Rows,
    /// Bytes in all; `u64::MAX` if unknown.
    pub(super) bytes: u64,
    /// The separator of the fields.
    pub(super) delimiter: u8,
}

enum Rows {
    Csv { reader: Box<csv::Reader<Patient>>, header: Box<Header>, record: csv::StringRecord },
    Json { reader: BufReader<Patient>, line: u64, bytes: u64 },
}

/// A line of the table with its number; `None` for a row without a reading to import.
pub(super) struct Numbered {
    pub(super) line: u64,
    pub(super) row: Result<Option<Row>, LineFault>,
}

/// Opens a table; `-` is standard input.
pub(super) fn open(path: &Path) -> Result<Table, SessionError> {
    let unread = |e: io::Error| SessionError::io(path, Cannot::ReadAs(FileSort::Table), e);
    let wrong = |why| SessionError::file(path, why);
    let (mut from, bytes): (Box<dyn Read>, u64) = if path == Path::new("-") {
        (Box::new(io::stdin()), u64::MAX)
    } else {
        let file = File::open(path).map_err(unread)?;
        let meta = file.metadata().map_err(unread)?;
        if !meta.is_file() {
            return Err(wrong(FileFault::NotPlain));
        }
        (Box::new(file), meta.len())
    };
    let begin = header::beginning(from.as_mut()).map_err(unread)?;
    let Some(first) = header::first_line(&begin).map(<[u8]>::to_vec) else {
        return Err(wrong(FileFault::Empty(FileSort::Table)));
    };
    let delimiter = header::delimiter(&first);
    let whole = Patient::new(Box::new(Cursor::new(begin).chain(from)));
    if first.trim_ascii_start().starts_with(b"{") {
        let rows = Rows::Json { reader: BufReader::new(whole), line: 0, bytes: 0 };
        return Ok(Table { rows, bytes, delimiter });
    }
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .delimiter(delimiter)
        .trim(csv::Trim::Headers)
        .from_reader(whole);
    let header = reader.headers().map_err(LineFault::from).and_then(Header::read);
    let header = header.map_err(|why| wrong(FileFault::Header(why)))?;
    let rows =
        Rows::Csv { reader: Box::new(reader), header: Box::new(header), record: csv::StringRecord::new() };
    Ok(Table { rows, bytes, delimiter })
}

impl Table {
    /// Whether `export` wrote it.
    pub(super) const fn is_export(&self) -> bool {
        match &self.rows {
            Rows::Csv { header, .. } => header.exported.is_some(),
            Rows::Json { .. } => true,
        }
    }

    pub(super) fn position(&self) -> u64 {
        match &self.rows {
            Rows::Csv { reader, .. } => reader.position().byte(),
            Rows::Json { bytes, .. } => *bytes,
        }
    }

    /// Reads the next line that is not a comment; `None` at the end.
    pub(super) fn next_row(&mut self, context: &Context<'_>, mark: &mut Mark) -> Option<Numbered> {
        match &mut self.rows {
            Rows::Csv { reader, header, record } => next_of_csv(reader, header, record, context, mark),
            Rows::Json { reader, line, bytes } => loop {
                reader.get_mut().begin();
                let mut text = Vec::new();
                *line += 1;
                match reader.read_until(b'\n', &mut text) {
                    Ok(0) => return None,
                    Ok(got) => *bytes += got as u64,
                    Err(why) => {
                        return Some(Numbered { line: *line, row: Err(LineFault::Unread(why.into())) });
                    }
                }
                if text.trim_ascii().is_empty() {
                    continue;
                }
                let row = match std::str::from_utf8(&text) {
                    Ok(text) => exported::json(text, context),
                    Err(why) => Err(LineFault::NotUtf8(why.into())),
                };
                return Some(Numbered { line: *line, row });
            },
        }
    }
}

fn next_of_csv(
    reader: &mut csv::Reader<Patient>,
    header: &Header,
    record: &mut csv::StringRecord,
    context: &Context<'_>,
    mark: &mut Mark,
) -> Option<Numbered> {
    reader.get_mut().begin();
    let read = reader.read_record(record);
    // The last byte of the record, or of its line end.
    let last = reader.position().byte().saturating_sub(1);
    let within = memchr_iter(b'\n', record.as_byte_record().as_slice()).count() as u64;
    let line = reader.get_mut().line_of(last).saturating_sub(within);
    let row = match (read, &header.exported) {
        (Ok(false), _) => return None,
        (Ok(true), Some(columns)) => exported::row(record, columns, context),
        (Ok(true), None) => Row::read(record, header, context, mark).map(Some),
        (Err(why), _) => Err(why.into()),
    };
    Some(Numbered { line, row })
}
