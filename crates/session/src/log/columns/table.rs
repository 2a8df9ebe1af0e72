//! One Parquet file: rows in, columns out, in memory that does not grow with their number.

use crate::{Cannot, SessionError};
use parquet::basic::{LogicalType, Repetition, TimeUnit, Type as Physical};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::types::Type;
use std::fs::File;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// After this many rows, a group is written.
const GROUP: usize = 50_000;

/// A value of a row; `None` is absent.
pub enum Value<'a> {
    Text(Option<&'a str>),
    Number(Option<f64>),
    Count(Option<u64>),
    Truth(bool),
    /// Milliseconds since 1970 in UTC.
    Instant(Option<i64>),
}

/// A value with the name of its column.
pub struct Cell<'a> {
    name: &'static str,
    value: Value<'a>,
}

pub fn cell<'a>(name: &'static str, value: impl Into<Value<'a>>) -> Cell<'a> {
    Cell { name, value: value.into() }
}

macro_rules! values {
    ($($from:ty: $value:expr;)*) => {
        $(impl<'a> From<$from> for Value<'a> {
            fn from(from: $from) -> Self {
                ($value)(from)
            }
        })*
    };
}

values! {
    &'a str: |text| Value::Text(Some(text));
    Option<&'a str>: Value::Text;
    f64: |number| Value::Number(Some(number));
    Option<f64>: Value::Number;
    u64: |count| Value::Count(Some(count));
    Option<u64>: Value::Count;
    bool: Value::Truth;
}

enum Cells {
    Text(Vec<ByteArray>),
    Number(Vec<f64>),
    Whole(Vec<i64>),
    Truth(Vec<bool>),
}

struct Filled {
    cells: Cells,
    /// 1 where there is a value.
    there: Vec<i16>,
}

pub struct Table {
    path: PathBuf,
    filled: Vec<Filled>,
    writer: SerializedFileWriter<File>,
}

impl Table {
    /// A new file for rows like this one, which is not added yet.
    pub fn begin(path: &Path, row: &[Cell<'_>]) -> Result<Self, SessionError> {
        let file = File::create_new(path).map_err(|e| SessionError::io(path, Cannot::Make, e))?;
        let by = concat!("jigtrue ", env!("CARGO_PKG_VERSION"));
        let properties = Arc::new(WriterProperties::builder().set_created_by(by.to_owned()).build());
        let writer = schema(row)
            .and_then(|schema| SerializedFileWriter::new(file, Arc::new(schema), properties))
            .map_err(|why| unwritten(path, why))?;
        Ok(Self { path: path.to_owned(), filled: row.iter().map(Filled::none).collect(), writer })
    }

    pub fn push(&mut self, row: &[Cell<'_>]) -> Result<(), SessionError> {
        for (filled, cell) in self.filled.iter_mut().zip(row) {
            filled.push(&cell.value);
        }
        if self.filled.first().is_some_and(|f| f.there.len() >= GROUP) {
            self.group()?;
        }
        Ok(())
    }

    fn group(&mut self) -> Result<(), SessionError> {
        let written = self.writer.next_row_group().and_then(|mut group| {
            for column in &mut self.filled {
                column.write(&mut group)?;
            }
            group.close().map(drop)
        });
        written.map_err(|why| unwritten(&self.path, why))
    }

    /// Writes what remains; the file is on disk when this returns.
    pub fn finish(mut self) -> Result<(), SessionError> {
        if self.filled.first().is_some_and(|f| !f.there.is_empty()) {
            self.group()?;
        }
        let path = &self.path;
        let file = self.writer.into_inner().map_err(|why| unwritten(path, why))?;
        file.sync_all().map_err(|e| SessionError::io(path, Cannot::Write, e))
    }
}

impl Filled {
    /// For a column of such values.
    fn none(cell: &Cell<'_>) -> Self {
        let cells = match cell.value {
            Value::Text(_) => Cells::Text(vec![]),
            Value::Number(_) => Cells::Number(vec![]),
            Value::Count(_) | Value::Instant(_) => Cells::Whole(vec![]),
            Value::Truth(_) => Cells::Truth(vec![]),
        };
        Self { cells, there: vec![] }
    }

    fn push(&mut self, value: &Value<'_>) {
        let there = match (&mut self.cells, value) {
            (Cells::Text(cells), Value::Text(Some(text))) => keep(cells, ByteArray::from(*text)),
            (Cells::Number(cells), Value::Number(Some(number))) => keep(cells, *number),
            (Cells::Whole(cells), Value::Instant(Some(n))) => keep(cells, *n),
            (Cells::Whole(cells), Value::Count(Some(n))) => {
                keep(cells, i64::try_from(*n).unwrap_or(i64::MAX))
            }
            (Cells::Truth(cells), Value::Truth(truth)) => keep(cells, *truth),
            _ => 0,
        };
        self.there.push(there);
    }

    /// Writes the values, and keeps none.
    fn write(&mut self, group: &mut SerializedRowGroupWriter<'_, File>) -> Result<(), ParquetError> {
        let there = std::mem::take(&mut self.there);
        match &mut self.cells {
            Cells::Text(cells) => column::<ByteArrayType>(group, cells, &there),
            Cells::Number(cells) => column::<DoubleType>(group, cells, &there),
            Cells::Whole(cells) => column::<Int64Type>(group, cells, &there),
            Cells::Truth(cells) => column::<BoolType>(group, cells, &there),
        }
    }
}

fn keep<T>(cells: &mut Vec<T>, value: T) -> i16 {
    cells.push(value);
    1
}

fn column<T: DataType>(
    group: &mut SerializedRowGroupWriter<'_, File>,
    cells: &mut Vec<T::T>,
    there: &[i16],
) -> Result<(), ParquetError> {
    let Some(mut column) = group.next_column()? else {
        return Err(ParquetError::General("a column more than the schema has".to_owned()));
    };
    column.typed::<T>().write_batch(&std::mem::take(cells), Some(there), None)?;
    column.close()
}

fn schema(row: &[Cell<'_>]) -> Result<Type, ParquetError> {
    let field = |cell: &Cell<'_>| {
        let (physical, logical) = match cell.value {
            Value::Text(_) => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
            Value::Number(_) => (Physical::DOUBLE, None),
            Value::Count(_) => (Physical::INT64, None),
            Value::Truth(_) => (Physical::BOOLEAN, None),
            Value::Instant(_) => (Physical::INT64, Some(LogicalType::timestamp(true, TimeUnit::MILLIS))),
        };
        let field = Type::primitive_type_builder(cell.name, physical).with_logical_type(logical);
        field.with_repetition(Repetition::OPTIONAL).build().map(Arc::new)
    };
    let fields = row.iter().map(field).collect::<Result<_, _>>()?;
    Type::group_type_builder("row").with_fields(fields).build()
}

fn unwritten(path: &Path, why: ParquetError) -> SessionError {
    SessionError::io(path, Cannot::Write, std::io::Error::other(why))
}
