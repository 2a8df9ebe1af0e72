//! What is wrong with an instrument file, and where.

use super::fault::{FileFault, Right};
use std::error::Error;
use std::fmt;
use std::ops::Range;
use std::string::String;
use std::vec;
use std::vec::Vec;

/// A mistake in an instrument file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileError {
    pub line: usize,
    /// The column in characters, from 1.
    pub column: usize,
    /// That line as written.
    pub text: String,
    /// What is wrong.
    pub what: FileFault,
    /// What to write instead, if that is known.
    pub right: Option<Right>,
}

impl FileError {
    /// A mistake at a byte range of the text.
    pub(super) fn at(text: &str, span: &Range<usize>, what: FileFault, right: Option<Right>) -> Self {
        let mut start = span.start.min(text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        let before = text.get(..start).unwrap_or_default();
        let line_start = before.rfind('\n').map_or(0, |end| end + 1);
        let line = text.get(line_start..).and_then(|rest| rest.lines().next()).unwrap_or_default();
        Self {
            line: before.matches('\n').count() + 1,
            column: before.get(line_start..).unwrap_or_default().chars().count() + 1,
            text: line.chars().take(120).map(|c| if c.is_control() { ' ' } else { c }).collect(),
            what,
            right,
        }
    }
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}, column {}: {}", self.line, self.column, self.what)?;
        let mark = vec![" "; self.column.saturating_sub(1)].concat();
        write!(f, "\n  | {}\n  | {mark}^", self.text)?;
        match &self.right {
            Some(right) => write!(f, "\n  {right}"),
            None => Ok(()),
        }
    }
}

impl Error for FileError {
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        self.what.source()
    }
}

/// Every mistake in an instrument file, in the order of its lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileErrors(pub Vec<FileError>);

impl fmt::Display for FileErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, error) in self.0.iter().enumerate() {
            if at > 0 {
                f.write_str("\n")?;
            }
            error.fmt(f)?;
        }
        Ok(())
    }
}

impl Error for FileErrors {}
