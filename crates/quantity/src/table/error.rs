//! What is wrong with a file, where, and what to write instead.

use alloc::string::String;
use alloc::vec::Vec;
use core::error::Error;
use core::fmt;
use core::ops::Range;

/// One mistake in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct FileError<W> {
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The line, or the part of a long line around the mistake; characters that a terminal cannot show are replaced.
    pub text: String,
    /// How many characters of `text` are before the mistake.
    pub indent: usize,
    /// How many characters the mark covers.
    pub width: usize,
    pub what: W,
    /// What to write instead, if that is known.
    pub right: Option<String>,
}

/// The mistakes found in a file, in text order; never empty.
#[derive(Clone, Debug, PartialEq)]
pub struct FileErrors<W> {
    errors: Vec<FileError<W>>,
    more: usize,
}

/// The longest excerpt shown, in characters.
const EXCERPT: usize = 100;

impl<W> FileErrors<W> {
    /// The mistakes, and how many more were found.
    pub(super) const fn new(errors: Vec<FileError<W>>, more: usize) -> Self {
        Self { errors, more }
    }

    /// The mistakes; at most the first twenty found.
    #[must_use]
    pub fn errors(&self) -> &[FileError<W>] {
        &self.errors
    }

    /// How many more there are.
    #[must_use]
    pub const fn more(&self) -> usize {
        self.more
    }
}

impl<W> FileError<W> {
    /// A mistake at a byte range of the text.
    pub(super) fn at(text: &str, span: Range<usize>, what: W, right: Option<String>) -> Self {
        let start = text.floor_char_boundary(span.start);
        let end = text.floor_char_boundary(span.end.max(start));
        let before = text.get(..start).unwrap_or_default();
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        let line_text = text.get(line_start..).and_then(|rest| rest.lines().next()).unwrap_or_default();
        let column = before.get(line_start..).unwrap_or_default().chars().count();
        let marked = text.get(start..end).and_then(|marked| marked.lines().next()).unwrap_or_default();
        // Show a long line from a little before the mistake.
        let skipped = column.saturating_sub(EXCERPT / 2);
        let indent = column - skipped;
        Self {
            line: before.bytes().filter(|b| *b == b'\n').count() + 1,
            column: column + 1,
            text: line_text.chars().skip(skipped).take(EXCERPT).map(visible).collect(),
            indent,
            width: marked.trim_end().chars().count().clamp(1, EXCERPT - indent),
            what,
            right,
        }
    }
}

/// Replaces a character that a terminal would not show in one cell or would obey.
fn visible(c: char) -> char {
    match c {
        '\t' => ' ',
        '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}' => {
            '\u{fffd}'
        }
        c if c.is_control() => '\u{fffd}',
        c => c,
    }
}

/// A piece of the file's text, made short and safe for a message.
#[must_use]
pub fn quoted(text: &str) -> String {
    const LONGEST: usize = 60;
    let mut out: String = text.chars().take(LONGEST).map(visible).collect();
    if text.chars().nth(LONGEST).is_some() {
        out.push_str("...");
    }
    out
}

impl<W: fmt::Display> fmt::Display for FileError<W> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "line {}, column {}: {}", self.line, self.column, self.what)?;
        writeln!(f, "  | {}", self.text)?;
        write!(f, "  | {}{}", " ".repeat(self.indent), "^".repeat(self.width))?;
        match &self.right {
            Some(right) => write!(f, "\n  {right}"),
            None => Ok(()),
        }
    }
}

impl<W: fmt::Display> fmt::Display for FileErrors<W> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, error) in self.errors.iter().enumerate() {
            if i > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{error}")?;
        }
        match self.more {
            0 => Ok(()),
            more => write!(f, "\nand {more} more"),
        }
    }
}

impl<W: Error + 'static> Error for FileErrors<W> {
    /// The first mistake.
    fn source(&self) -> Option<&(dyn Error + 'static)> {
        self.errors.first().map(|error| &error.what as _)
    }
}
