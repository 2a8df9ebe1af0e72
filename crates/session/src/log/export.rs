//! Exports every entry as CSV or as JSON Lines.

use super::Session;
use crate::{SessionError, stamp};
use journal::{Fault, Journal, JournalError};
use quantity::Kind;
use record::{Entry, Reading, What, Withdrawn};
use serde::Serialize;
use std::collections::BTreeMap;
use std::io::{self, Write};
use std::path::Path;

/// Header of the CSV. A reading fills the value column of its own quantity; resolution and scatter are in that unit.
const COLUMNS: [&str; 28] = [
    "seq",
    "at_utc",
    "by",
    "kind",
    "point",
    "text",
    "angle_deg",
    "length_mm",
    "torque_Nm",
    "spot_temperature_C",
    "resolution",
    "facing",
    "instrument",
    "part_temperature_C",
    "round",
    "scatter",
    "samples",
    "unsettled",
    "source",
    "note",
    "withdrawn_by",
    "detail",
    "stage",
    "asked_expected",
    "asked_why",
    "force_N",
    "dial",
    "dial_step",
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
    /// cannot be read.
    pub broken: Option<JournalError>,
}

impl Session {
    /// Writes every entry of the log at `log`, in memory that does not grow with it.
    ///
    /// # Errors
    /// If the log cannot be opened or read, or nothing can be written.
    pub fn export(log: &Path, form: Form, to: &mut dyn Write) -> Result<Exported, SessionError> {
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
                let mut out = csv::Writer::from_writer(to);
                out.write_record(COLUMNS).map_err(no_record)?;
                let done = each(&journal, |entry| {
                    let stage = begun(entry).unwrap_or_default();
                    out.write_record(row(entry, withdrawn.get(&entry.seq).copied(), stage)).map_err(no_record)
                })?;
                out.flush().map_err(unwritten)?;
                Ok(done)
            }
            Form::JsonLines => {
                let done = each(&journal, |e| {
                    let stage = begun(e);
                    let line = Line {
                        format: 1,
                        seq: e.seq,
                        at: stamp(e.at),
                        by: &e.by,
                        stage: stage.as_deref(),
                        withdrawn_by: withdrawn.get(&e.seq).copied(),
                        what: &e.what,
                    };
                    let text = serde_json::to_string(&line).map_err(SessionError::because)?;
                    writeln!(to, "{}", crate::json_shown(&text)).map_err(unwritten)
                })?;
                to.flush().map_err(unwritten)?;
                Ok(done)
            }
        }
    }
}

/// Passes on every entry, checked while the chain is whole and as found after that.
fn each(
    journal: &Journal,
    mut write: impl FnMut(&Entry) -> Result<(), SessionError>,
) -> Result<Exported, SessionError> {
    let mut entries = 0;
    let mut last = 0;
    for entry in journal.entries() {
        match entry {
            Ok(entry) => {
                write(&entry)?;
                (entries, last) = (entries + 1, entry.seq);
            }
            Err(why) if matches!(why.fault, Fault::Broken(_) | Fault::Altered(_)) => {
                for entry in journal.entries_as_found_since(last).filter_map(Result::ok) {
                    write(&entry)?;
                    entries += 1;
                }
                return Ok(Exported { entries, broken: Some(why) });
            }
            Err(why) => return Err(why.into()),
        }
    }
    Ok(Exported { entries, broken: None })
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

fn no_record(why: csv::Error) -> SessionError {
    match why.kind() {
        csv::ErrorKind::Io(why) if why.kind() == io::ErrorKind::BrokenPipe => SessionError::Closed,
        _ => unwritten(why.into()),
    }
}

fn row(entry: &Entry, withdrawn_by: Option<u64>, stage: String) -> [String; 28] {
    let mut row: [String; 28] = Default::default();
    row[0] = entry.seq.to_string();
    row[1] = stamp(entry.at);
    row[2].clone_from(&entry.by);
    let body = serde_json::to_value(&entry.what).unwrap_or_default();
    row[3] = body.get("kind").and_then(|k| k.as_str()).unwrap_or_default().to_owned();
    match &entry.what {
        What::Reading(reading) => fill(&mut row, reading),
        _ => row[21] = body.to_string(),
    }
    row[20] = withdrawn_by.map(|seq| seq.to_string()).unwrap_or_default();
    row[22] = stage;
    row
}

fn fill(row: &mut [String; 28], reading: &Reading) {
    let optional = |number: Option<f64>| number.map(|n| n.to_string()).unwrap_or_default();
    row[4] = reading.point.to_string();
    row[5].clone_from(&reading.text);
    let column = COLUMNS.iter().position(|name| *name == value_column(reading.quantity));
    if let Some(cell) = column.and_then(|at| row.get_mut(at)) {
        *cell = reading.value.to_string();
    }
    row[10] = reading.resolution.to_string();
    row[11] = reading.facing.map(|f| f.word().to_owned()).unwrap_or_default();
    row[12] = reading.instrument.clone().unwrap_or_default();
    row[13] = optional(reading.temperature.map(quantity::Celsius::value));
    row[14] = reading.round.to_string();
    row[15] = optional(reading.scatter);
    row[16] = reading.samples.map(|n| n.to_string()).unwrap_or_default();
    row[17] = if reading.unsettled { "yes" } else { "" }.to_owned();
    row[18] = reading.source.word().to_owned();
    row[19] = reading.note.clone().unwrap_or_default();
    if let Some(dial) = &reading.dial {
        row[26] = dial.shown.to_string();
        row[27] = dial.step.to_string();
    }
    if let Some(asked) = &reading.asked {
        row[23].clone_from(&asked.expected);
        row[24].clone_from(&asked.why);
    }
}

fn unwritten(why: io::Error) -> SessionError {
    if why.kind() == io::ErrorKind::BrokenPipe {
        return SessionError::Closed;
    }
    SessionError::io(Path::new("export"), "cannot be written", why)
}

#[cfg(test)]
mod tests;
