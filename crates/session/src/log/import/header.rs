//! The header of a table of readings.

use super::super::points::nearest;
use crate::brief;
use quantity::{Unit, unit_named};
use std::fs::File;
use std::io::{self, BufRead, BufReader};

/// Columns without a unit.
const PLAIN: [&str; 11] =
    ["point", "value", "unit", "facing", "instrument", "at", "by", "round", "note", "read_to", "sure"];

/// Where each column is.
#[derive(Debug, Default)]
pub(super) struct Header {
    pub(super) point: usize,
    /// A column whose cells carry their own unit, or are in the unit used inside.
    pub(super) value: Option<usize>,
    pub(super) unit: Option<usize>,
    /// Columns with a unit in their head (`value_deg`).
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
    /// Whether a value that would be asked about really is so.
    pub(super) sure: Option<usize>,
}

impl Header {
    /// Reads a header.
    ///
    /// # Errors
    /// In words: an unknown or repeated column, or none for the point or the value.
    pub(super) fn read(record: &csv::StringRecord) -> Result<Self, String> {
        let mut header = Self::default();
        let mut point = None;
        for (i, name) in record.iter().enumerate() {
            if record.iter().take(i).any(|before| before == name) {
                return Err(format!("column `{}` stands in it twice", brief(name)));
            }
            match name {
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
                "temperature_C" => header.temperature = Some((i, Unit::Celsius)),
                "temperature_F" => header.temperature = Some((i, Unit::Fahrenheit)),
                other => header.values.push((i, value_unit(other)?)),
            }
        }
        if header.value.is_none() && header.values.is_empty() {
            return Err(
                "it has no `value` column, nor one with a unit such as `value_deg` or `value_mm`".to_owned()
            );
        }
        header.point = point.ok_or("it has no `point` column")?;
        Ok(header)
    }
}

fn value_unit(name: &str) -> Result<Unit, String> {
    if let Some(unit) = name.strip_prefix("value_") {
        return unit_named(unit).ok_or_else(|| {
            format!(
                "`{}` has an unknown unit; write value_deg, value_mm, value_in, value_N·m, value_in-lb",
                brief(name)
            )
        });
    }
    let known =
        PLAIN.iter().map(|s| (*s).to_owned()).chain(["temperature_C".to_owned(), "value_deg".to_owned()]);
    Err(match nearest(name, known) {
        Some(near) => format!("column `{}` is not known; nearest is `{near}`", brief(name)),
        None => {
            format!("column `{}` is not known; columns are {}, temperature_C", brief(name), PLAIN.join(", "))
        }
    })
}

/// The first line that is not a comment.
pub(super) fn first_line(file: &File) -> io::Result<Vec<u8>> {
    let mut reader = BufReader::new(file);
    let mut line = Vec::new();
    loop {
        line.clear();
        // A header longer than this is no header; the reader of the table will say so.
        let got = io::Read::take(&mut reader, 64 << 10).read_until(b'\n', &mut line)?;
        if got == 0 || !line.starts_with(b"#") {
            return Ok(line);
        }
    }
}

/// A comma, unless the header has none and has semicolons or tabs.
pub(super) fn delimiter(first: &[u8]) -> u8 {
    if first.contains(&b',') {
        return b',';
    }
    [b';', b'\t'].into_iter().find(|d| first.contains(d)).unwrap_or(b',')
}

/// What is wrong with a line that is no line of a table.
pub(super) fn csv_trouble(error: &csv::Error) -> String {
    match error.kind() {
        csv::ErrorKind::UnequalLengths { expected_len, len, .. } => format!(
            "has {len} fields where the header has {expected_len}; a comma inside a value or note is not taken unless the \
             field is in quotes, and the decimal mark is a point"
        ),
        csv::ErrorKind::Utf8 { .. } => "holds bytes that are not UTF-8".to_owned(),
        csv::ErrorKind::Io(e) => format!("cannot be read: {e}"),
        _ => error.to_string(),
    }
}
