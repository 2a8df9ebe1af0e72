//! The header of a table of readings.

use super::fault::LineFault;
use quantity::{Unit, nearest, unit_named};
use std::io::{self, Read};

/// Columns without a unit.
const PLAIN: [&str; 11] =
    ["point", "value", "unit", "facing", "instrument", "at", "by", "round", "note", "read_to", "sure"];

#[derive(Debug, Default)]
pub(super) struct Header {
    pub(super) point: usize,
    /// A column whose cells carry their own unit, or are in the base unit.
    pub(super) value: Option<usize>,
    pub(super) unit: Option<usize>,
    /// Columns with a unit in their header (`value_deg`).
    pub(super) values: Vec<(usize, Unit)>,
    pub(super) temperature: Option<(usize, Unit)>,
    pub(super) facing: Option<usize>,
    pub(super) instrument: Option<usize>,
    pub(super) at: Option<usize>,
    pub(super) by: Option<usize>,
    pub(super) round: Option<usize>,
    pub(super) note: Option<usize>,
    /// A coarser step than the instrument's.
    pub(super) read_to: Option<usize>,
    /// Whether a questioned value really is so.
    pub(super) sure: Option<usize>,
    /// The columns of an export, if the table is one.
    pub(super) exported: Option<Vec<String>>,
}

impl Header {
    /// Reads a header.
    ///
    /// # Errors
    /// An unknown or repeated column, or none for the point or the value.
    pub(super) fn read(record: &csv::StringRecord) -> Result<Self, LineFault> {
        let mut header = Self::default();
        let mut point = None;
        let names: Vec<String> = record.iter().map(str::to_lowercase).collect();
        if ["seq", "kind", "point", "at_utc", "text"].iter().all(|own| names.iter().any(|name| name == own)) {
            header.exported = Some(names);
            return Ok(header);
        }
        for (i, name) in record.iter().enumerate() {
            if names.iter().take(i).any(|before| *before == name.to_lowercase()) {
                return Err(LineFault::ColumnTwice(name.to_owned()));
            }
            match name.to_lowercase().as_str() {
                "point" => point = Some(i),
                "value" => header.value = Some(i),
                "unit" => header.unit = Some(i),
                "facing" => header.facing = Some(i),
                "instrument" => header.instrument = Some(i),
                "at" => header.at = Some(i),
                "by" => header.by = Some(i),
                "round" => header.round = Some(i),
                "note" => header.note = Some(i),
                "read_to" => header.read_to = Some(i),
                "sure" => header.sure = Some(i),
                "temperature_c" => header.temperature = Some((i, Unit::Celsius)),
                "temperature_f" => header.temperature = Some((i, Unit::Fahrenheit)),
                _ => header.values.push((i, value_unit(name)?)),
            }
        }
        if header.value.is_none() && header.values.is_empty() {
            return Err(LineFault::NoValueColumn);
        }
        header.point = point.ok_or(LineFault::NoPointColumn)?;
        Ok(header)
    }
}

fn value_unit(name: &str) -> Result<Unit, LineFault> {
    let unit = name.get(..6).filter(|head| head.eq_ignore_ascii_case("value_")).and_then(|_| name.get(6..));
    if let Some(unit) = unit {
        let known = unit_named(unit).or_else(|| unit_named(&unit.to_lowercase()));
        return known.ok_or_else(|| LineFault::UnknownUnit(name.to_owned()));
    }
    Err(match nearest(name, PLAIN.into_iter().chain(["temperature_C", "temperature_F", "value_deg"])) {
        Some(near) => LineFault::NearColumn { name: name.to_owned(), near },
        None => LineFault::UnknownColumn { name: name.to_owned(), plain: &PLAIN },
    })
}

/// How much of a table is searched for its header, in bytes; a longer header is refused.
const BEGINNING: usize = 64 << 10;

/// The beginning of a table: as much as contains the first line that is not a comment. A byte order mark is left out.
pub(super) fn beginning(from: &mut dyn Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let mut part = [0; 4096];
    while bytes.len() < BEGINNING && header_of(&bytes).is_none() {
        match from.read(&mut part)? {
            0 => break,
            got => bytes.extend(part.get(..got).unwrap_or_default()),
        }
    }
    if bytes.starts_with(&[0xef, 0xbb, 0xbf]) {
        bytes.drain(..3);
    }
    Ok(bytes)
}

/// The first whole line that is neither blank nor a comment.
fn header_of(bytes: &[u8]) -> Option<&[u8]> {
    let (whole, _) = bytes.split_at(bytes.iter().rposition(|b| *b == b'\n')?);
    first_line(whole)
}

/// The first line that is neither blank nor a comment.
pub(super) fn first_line(bytes: &[u8]) -> Option<&[u8]> {
    let bytes = bytes.strip_prefix(&[0xef, 0xbb, 0xbf]).unwrap_or(bytes);
    bytes.split(|b| *b == b'\n').find(|line| !line.trim_ascii().is_empty() && !line.starts_with(b"#"))
}

/// A comma, unless the header has none and has semicolons or tabs.
pub(super) fn delimiter(first: &[u8]) -> u8 {
    if first.contains(&b',') {
        return b',';
    }
    [b';', b'\t'].into_iter().find(|d| first.contains(d)).unwrap_or(b',')
}

/// The text of a cell, without space around it; `None` if it is empty.
pub(super) fn cell(record: &csv::StringRecord, column: usize) -> Option<&str> {
    record.get(column).map(str::trim).filter(|text| !text.is_empty())
}
