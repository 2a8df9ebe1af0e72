//! A table of numbers: a header row, comments with #, units in the headers (`span_mm`, `angle_deg`).

use crate::refusal::{Refusal, TableFault};
use crate::show::Show;
use numerics::Dd;
use quantity::{self, Fault, Kind};
use serde::{Serialize, Serializer};
use serde_json::value::RawValue;
use session::{SessionError, shown};
use std::cell::Cell;
use std::path::{Path, PathBuf};

pub struct Table {
    path: PathBuf,
    names: Vec<String>,
    columns: Vec<Vec<String>>,
    /// Which columns were looked at.
    read: Vec<Cell<bool>>,
}

impl Table {
    /// Reads a table from a file, or from standard input for `-`.
    pub fn read(path: &Path) -> Result<Self, SessionError> {
        let text = session::read_table(path)?;
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .trim(csv::Trim::All)
            .flexible(false)
            .from_reader(text.as_bytes());
        let wrong = |why: TableFault| SessionError::File { path: path.to_owned(), why: why.into() };
        let names: Vec<String> =
            reader.headers().map_err(|e| wrong(TableFault::Line(e)))?.iter().map(str::to_owned).collect();
        if names.iter().all(String::is_empty) {
            return Err(wrong(TableFault::NoHeader));
        }
        if let Some(name) = names.iter().enumerate().find_map(|(i, n)| names[..i].contains(n).then_some(n)) {
            return Err(wrong(TableFault::Twice(name.clone(), name.clone())));
        }
        if names.iter().any(|n| Dd::parse(n).is_ok()) {
            return Err(wrong(TableFault::Numbers));
        }
        let mut columns = vec![Vec::new(); names.len()];
        for record in reader.records() {
            let record = record.map_err(|e| wrong(TableFault::Line(e)))?;
            for (column, field) in columns.iter_mut().zip(record.iter()) {
                column.push(field.to_owned());
            }
        }
        if columns.first().is_none_or(Vec::is_empty) {
            return Err(wrong(TableFault::NoRows));
        }
        let read = vec![Cell::new(false); names.len()];
        Ok(Self { path: path.to_owned(), names, columns, read })
    }

    pub fn names(&self) -> &[String] {
        &self.names
    }

    pub fn rows(&self) -> usize {
        self.columns.first().map_or(0, Vec::len)
    }

    /// The text of the column with exactly this name.
    pub fn text(&self, name: &str) -> Result<&[String], SessionError> {
        let at = self.names.iter().position(|n| n == name).ok_or_else(|| self.no_column(name))?;
        Ok(self.column(at))
    }

    /// The text of a column by position.
    pub fn nth(&self, at: usize) -> Result<&[String], SessionError> {
        let have = self.names.len();
        if at >= have {
            return Err(self.wrong(TableFault::FewColumns { have, least: at + 1 }));
        }
        Ok(self.column(at))
    }

    fn column(&self, at: usize) -> &[String] {
        self.read[at].set(true);
        &self.columns[at]
    }

    /// Names the columns that no question was asked of: one with a misspelt name would be missed in silence.
    pub fn remark_unread(&self, show: &Show) {
        let unread = self.names.iter().zip(&self.read).filter(|(_, read)| !read.get());
        let names: Vec<String> = unread.map(|(name, _)| format!("`{}`", shown(name))).collect();
        if !names.is_empty() {
            show.remark(&format!(
                "not used: {} {}",
                if names.len() == 1 { "column" } else { "columns" },
                names.join(", ")
            ));
        }
    }

    /// A column as decimals with all their digits.
    pub fn exact(&self, column: &[String]) -> Result<Vec<Dd>, SessionError> {
        column
            .iter()
            .enumerate()
            .map(|(i, text)| {
                Dd::parse(text)
                    .map_err(|_| self.wrong(TableFault::NotANumber { row: i + 1, text: text.clone() }))
            })
            .collect()
    }

    pub fn numbers(&self, column: &[String]) -> Result<Vec<f64>, SessionError> {
        Ok(self.exact(column)?.into_iter().map(Dd::to_f64).collect())
    }

    /// A column of a quantity in the base unit: `NAME` alone, or `NAME_unit` (`offset_mm`, `tilt_mm/m`); cells may
    /// carry their own units. `None` if there is no such column.
    pub fn quantity(&self, name: &str, kind: Kind) -> Result<Option<Vec<f64>>, SessionError> {
        let stem = format!("{name}_");
        let mut found = self.names.iter().enumerate().filter_map(|(i, n)| match n.strip_prefix(&stem) {
            Some(unit) => Some((i, Some(unit))),
            None => (n == name).then_some((i, None)),
        });
        let Some((at, written)) = found.next() else { return Ok(None) };
        if let Some((again, _)) =
            found.find(|(_, unit)| unit.is_none_or(|u| quantity::unit_named(u).is_some()))
        {
            return Err(self.twice(at, again));
        }
        let unit = match written {
            None => kind.base_unit(),
            Some(word) => match quantity::unit_named(word) {
                Some(unit) if unit.kind() == kind => unit,
                _ => return Err(self.wrong(TableFault::NoUnit { word: word.to_owned(), kind })),
            },
        };
        let cells = self.column(at).iter().enumerate().map(|(i, text)| {
            quantity::typed_in(text, unit).map(|t| t.amount.base()).map_err(|why| {
                self.wrong(TableFault::Cell { row: i + 1, column: self.names[at].clone(), why })
            })
        });
        cells.collect::<Result<Vec<f64>, _>>().map(Some)
    }

    /// A column of standard uncertainties; none may be negative.
    pub fn uncertainty(&self, name: &str, kind: Kind) -> Result<Option<Vec<f64>>, SessionError> {
        let u = self.quantity(name, kind)?;
        match u.as_ref().and_then(|u| u.iter().position(|u| *u < 0.0)) {
            Some(row) => Err(self.wrong(TableFault::Negative { row: row + 1, column: name.to_owned() })),
            None => Ok(u),
        }
    }

    /// The same; an error if there is no such column.
    pub fn required(&self, name: &str, kind: Kind) -> Result<Vec<f64>, SessionError> {
        self.quantity(name, kind)?.ok_or_else(|| self.no_column(&format!("{name}_{}", kind.base_symbol())))
    }

    /// The name of each row: from a column of names, else its number from 1.
    pub fn row_names(&self, column: &str) -> impl Fn(usize) -> String {
        let names = self.text(column).ok();
        move |row| names.and_then(|n| n.get(row)).cloned().unwrap_or_else(|| (row + 1).to_string())
    }

    pub fn wrong(&self, why: TableFault) -> SessionError {
        SessionError::File { path: self.path.clone(), why: why.into() }
    }

    fn twice(&self, at: usize, again: usize) -> SessionError {
        self.wrong(TableFault::Twice(self.names[at].clone(), self.names[again].clone()))
    }

    fn no_column(&self, name: &str) -> SessionError {
        self.wrong(TableFault::NoColumn { name: name.to_owned(), have: self.names.clone() })
    }
}

/// A number written into JSON with 17 significant digits; null if it is not finite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Digits(pub f64);

impl Serialize for Digits {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let text = if self.0.is_finite() { format!("{:.16e}", self.0) } else { "null".to_owned() };
        RawValue::from_string(text).map_err(serde::ser::Error::custom)?.serialize(serializer)
    }
}

pub fn digits(values: &[f64]) -> Vec<Digits> {
    values.iter().copied().map(Digits).collect()
}

/// A typed length, in mm.
pub fn length(text: &str) -> Result<f64, SessionError> {
    quantity::typed(text, Kind::Length).map(|t| t.amount.base()).map_err(SessionError::because)
}

/// A typed value of this kind; `what` names it in the message if it cannot be read.
pub fn given(what: &str, text: &str, kind: Kind) -> Result<quantity::Typed, Refusal> {
    quantity::typed(text, kind).map_err(|why| Refusal::Given { what: what.to_owned(), why })
}

/// Whether a typed value includes its unit.
pub fn unit_written(text: &str) -> bool {
    !quantity::typed_any(text).is_err_and(|why| why.fault == Fault::UnitMissing)
}
