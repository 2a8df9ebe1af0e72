//! Exports every entry as CSV or as JSON Lines.

use super::Session;
use crate::files::write_whole_by;
use crate::{SessionError, stamp};
use journal::{Fault, Journal, JournalError};
use quantity::shown::count;
use quantity::{Celsius, Kind};
use record::{Entry, Facing, Reading, What, Withdrawn};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::io::{self, Write};
use std::path::Path;

/// What a row of the CSV is made from.
struct Row<'a> {
    entry: &'a Entry,
    withdrawn_by: Option<u64>,
    stage: Option<String>,
    /// What belongs to the entry, as JSON.
    body: serde_json::Value,
}

impl Row<'_> {
    /// A cell of a reading; empty for any other entry.
    fn reading(&self, cell: impl FnOnce(&Reading) -> String) -> String {
        self.maybe(|reading| Some(cell(reading)))
    }

    fn maybe<T: ToString>(&self, cell: impl FnOnce(&Reading) -> Option<T>) -> String {
        match &self.entry.what {
            What::Reading(reading) => cell(reading).map(|value| value.to_string()).unwrap_or_default(),
            _ => String::new(),
        }
    }

    /// The value of a reading of this quantity.
    fn value(&self, quantity: Kind) -> String {
        self.maybe(|r| (r.quantity == quantity).then_some(r.value))
    }

    /// What belongs to an entry that is not a reading.
    fn detail(&self) -> String {
        if matches!(self.entry.what, What::Reading(_)) { String::new() } else { self.body.to_string() }
    }
}

fn kind_of(body: &serde_json::Value) -> String {
    body.get("kind").and_then(|kind| kind.as_str()).unwrap_or_default().to_owned()
}

/// A column of the CSV: its head, and its cell of a row.
struct Column {
    head: &'static str,
    cell: fn(&Row<'_>) -> String,
}

const fn column(head: &'static str, cell: fn(&Row<'_>) -> String) -> Column {
    Column { head, cell }
}

/// The columns. A reading fills that of its own quantity; resolution and scatter are in its unit.
const COLUMNS: [Column; 28] = [
    column("seq", |r| r.entry.seq.to_string()),
    column("at_utc", |r| stamp(r.entry.at)),
    column("by", |r| r.entry.by.clone()),
    column("kind", |r| kind_of(&r.body)),
    column("point", |r| r.reading(|r| r.point.to_string())),
    column("text", |r| r.reading(|r| r.text.clone())),
    column(value_column(Kind::Angle), |r| r.value(Kind::Angle)),
    column(value_column(Kind::Length), |r| r.value(Kind::Length)),
    column(value_column(Kind::Torque), |r| r.value(Kind::Torque)),
    column(value_column(Kind::Temperature), |r| r.value(Kind::Temperature)),
    column("resolution", |r| r.reading(|r| r.resolution.to_string())),
    column("facing", |r| r.maybe(|r| r.facing.map(Facing::word))),
    column("instrument", |r| r.maybe(|r| r.instrument.clone())),
    column("part_temperature_C", |r| r.maybe(|r| r.temperature.map(Celsius::value))),
    column("round", |r| r.reading(|r| r.round.to_string())),
    column("scatter", |r| r.maybe(|r| r.scatter)),
    column("samples", |r| r.maybe(|r| r.samples)),
    column("unsettled", |r| r.maybe(|r| r.unsettled.then_some("yes"))),
    column("source", |r| r.reading(|r| r.source.word().to_owned())),
    column("note", |r| r.maybe(|r| r.note.clone())),
    column("withdrawn_by", |r| r.withdrawn_by.map(|seq| seq.to_string()).unwrap_or_default()),
    column("detail", |r| r.detail()),
    column("stage", |r| r.stage.clone().unwrap_or_default()),
    column("asked_expected", |r| r.maybe(|r| r.asked.as_ref().map(|asked| asked.expected.clone()))),
    column("asked_why", |r| r.maybe(|r| r.asked.as_ref().map(|asked| asked.why.clone()))),
    column(value_column(Kind::Force), |r| r.value(Kind::Force)),
    column("dial", |r| r.maybe(|r| r.dial.as_ref().map(|dial| dial.shown))),
    column("dial_step", |r| r.maybe(|r| r.dial.as_ref().map(|dial| dial.step))),
];

/// The column of a reading's value.
pub(super) const fn value_column(quantity: Kind) -> &'static str {
    match quantity {
        Kind::Angle => "angle_deg",
        Kind::Length => "length_mm",
        Kind::Torque => "torque_Nm",
        Kind::Temperature => "spot_temperature_C",
        Kind::Force => "force_N",
    }
}

#[derive(Serialize)]
struct Line<'a> {
    format: u32,
    seq: u64,
    at: String,
    by: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    stage: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    withdrawn_by: Option<u64>,
    #[serde(flatten)]
    what: &'a What,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// A table with units in its header.
    Csv,
    /// One JSON object on each line, with `format`, `seq`, `at`, `by`, `kind` and its data.
    JsonLines,
}

#[derive(Clone, Debug)]
pub struct Exported {
    pub entries: u64,
    /// What is wrong with the log's chain, if it is broken; then the entries are written as found, without those that
    /// cannot be read, and a last line says so, of the kind `broken`.
    pub broken: Option<JournalError>,
    /// How many cannot be read.
    pub unread: u64,
}

impl Exported {
    /// What to know about an export of a log whose chain is broken.
    pub fn warning(&self) -> Option<String> {
        let why = self.broken.as_ref()?;
        Some(match self.unread {
            0 => format!("{why}; exported as found"),
            n => format!(
                "{why}; exported as found, without {} that cannot be read",
                count(n, "entry", "entries")
            ),
        })
    }
}

/// The kind of the line with which the export of a broken log ends, beside what is wrong with it.
pub(super) const BROKEN: &str = "broken";

#[derive(Serialize, Deserialize)]
pub(super) struct BrokenLine {
    format: u32,
    pub(super) kind: String,
    pub(super) why: String,
}

impl Session {
    /// Writes every entry of the log at `log` to the output, in memory that does not grow with it.
    ///
    /// # Errors
    /// If the log cannot be opened or read, or nothing can be written.
    pub fn export(log: &Path, form: Form, to: &mut dyn Write) -> Result<Exported, SessionError> {
        export(log, form, to, &|why| match why.kind() {
            io::ErrorKind::BrokenPipe => SessionError::Closed,
            _ => SessionError::Output(why),
        })
    }

    /// The same into a file, whole or not at all.
    ///
    /// # Errors
    /// As [`Session::export`], and as [`write_whole`](crate::write_whole).
    pub fn export_to(log: &Path, form: Form, file: &Path) -> Result<Exported, SessionError> {
        write_whole_by(file, &[log], |to| export(log, form, to, &|why| SessionError::unwritten(file, why)))
    }
}

fn export(
    log: &Path,
    form: Form,
    to: &mut dyn Write,
    unwritten: &dyn Fn(io::Error) -> SessionError,
) -> Result<Exported, SessionError> {
    let journal = Journal::open_read_only(log)?;
    let withdrawn = withdrawn(&journal.all_of_kind_as_found("withdrawn")?);
    let mut stage: Option<String> = None;
    let mut begun = |entry: &Entry| {
        if let What::Stage(begun) = &entry.what
            && !withdrawn.contains_key(&entry.seq)
        {
            stage = Some(begun.name.clone());
        }
        stage.clone()
    };
    match form {
        Form::Csv => {
            let no_record = |why: csv::Error| match why.into_kind() {
                csv::ErrorKind::Io(why) => unwritten(why),
                other => unwritten(io::Error::other(format!("{other:?}"))),
            };
            let mut out = csv::Writer::from_writer(to);
            out.write_record(COLUMNS.map(|column| column.head)).map_err(no_record)?;
            let done = each(&journal, |entry| {
                let (stage, withdrawn_by) = (begun(entry), withdrawn.get(&entry.seq).copied());
                let body = serde_json::to_value(&entry.what).unwrap_or_default();
                let row = Row { entry, withdrawn_by, stage, body };
                out.write_record(COLUMNS.map(|column| (column.cell)(&row))).map_err(no_record)
            })?;
            if let Some(why) = done.warning() {
                let cell = |column: Column| match column.head {
                    "kind" => BROKEN,
                    "detail" => &why,
                    _ => "",
                };
                out.write_record(COLUMNS.map(cell)).map_err(no_record)?;
            }
            out.flush().map_err(unwritten)?;
            Ok(done)
        }
        Form::JsonLines => {
            let mut put = |text: serde_json::Result<String>| {
                let text = text.map_err(SessionError::because)?;
                writeln!(to, "{}", crate::json_shown(&text)).map_err(unwritten)
            };
            let done = each(&journal, |e| {
                let stage = begun(e);
                put(serde_json::to_string(&Line {
                    format: 1,
                    seq: e.seq,
                    at: stamp(e.at),
                    by: &e.by,
                    stage: stage.as_deref(),
                    withdrawn_by: withdrawn.get(&e.seq).copied(),
                    what: &e.what,
                }))
            })?;
            if let Some(why) = done.warning() {
                put(serde_json::to_string(&BrokenLine { format: 1, kind: BROKEN.to_owned(), why }))?;
            }
            to.flush().map_err(unwritten)?;
            Ok(done)
        }
    }
}

/// Passes on every entry, checked while the chain is whole and as found after that.
fn each(
    journal: &Journal,
    mut write: impl FnMut(&Entry) -> Result<(), SessionError>,
) -> Result<Exported, SessionError> {
    let (mut entries, mut unread) = (0, 0);
    let mut last = 0;
    for entry in journal.entries() {
        match entry {
            Ok(entry) => {
                write(&entry)?;
                (entries, last) = (entries + 1, entry.seq);
            }
            Err(why) if matches!(why.fault, Fault::Broken(_) | Fault::Altered(_)) => {
                for entry in journal.entries_as_found_since(last) {
                    let Ok(entry) = entry else {
                        unread += 1;
                        continue;
                    };
                    write(&entry)?;
                    entries += 1;
                }
                return Ok(Exported { entries, broken: Some(why), unread });
            }
            Err(why) => return Err(why.into()),
        }
    }
    Ok(Exported { entries, broken: None, unread })
}

/// The withdrawn entries, and what withdrew each.
fn withdrawn(entries: &[Entry]) -> BTreeMap<u64, u64> {
    let gone = Withdrawn::of(entries);
    let named = entries.iter().filter_map(|e| match e.what {
        What::Withdrawn { seq, .. } => Some((seq, gone.by(seq)?)),
        _ => None,
    });
    named.collect()
}

#[cfg(test)]
mod tests;
