//! What is wrong with a plan, where, and what would be right.

use std::fmt;
use std::ops::Range;

/// One mistake in a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanError {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The line as it stands, control characters shown as escapes.
    pub text: String,
    /// How many characters of it are meant.
    pub width: usize,
    /// What is wrong.
    pub what: String,
    /// What would be right, where that can be said.
    pub right: Option<String>,
}

/// Every mistake found in a plan, in the order of the text; never empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanErrors(pub Vec<PlanError>);

/// The longest excerpt shown, in characters.
const EXCERPT: usize = 100;
/// The most mistakes shown at once.
const SHOWN: usize = 20;

impl PlanError {
    /// A mistake at a byte range of the text.
    pub(super) fn at(text: &str, span: Range<usize>, what: String, right: Option<String>) -> Self {
        let start = floor_boundary(text, span.start);
        let end = floor_boundary(text, span.end.max(start));
        let before = text.get(..start).unwrap_or("");
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        let rest = text.get(line_start..).unwrap_or("");
        let line_text = rest.lines().next().unwrap_or("");
        let column = before.get(line_start..).unwrap_or("").chars().count() + 1;
        let marked = text.get(start..end).unwrap_or("").lines().next().unwrap_or("");
        Self {
            line: before.matches('\n').count() + 1,
            column,
            text: visible(line_text),
            width: marked.trim_end().chars().count().max(1),
            what,
            right,
        }
    }
}

fn floor_boundary(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn visible(line: &str) -> String {
    line.chars().take(4 * EXCERPT).map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect()
}

impl fmt::Display for PlanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "line {}, column {}: {}", self.line, self.column, self.what)?;
        // A long line is shown from a little before the place meant.
        let skip = (self.column - 1).saturating_sub(EXCERPT / 2);
        let shown: String = self.text.chars().skip(skip).take(EXCERPT).collect();
        writeln!(f, "  | {shown}")?;
        let indent = self.column - 1 - skip;
        let width = self.width.min(EXCERPT.saturating_sub(indent)).max(1);
        write!(f, "  | {}{}", " ".repeat(indent), "^".repeat(width))?;
        if let Some(right) = &self.right {
            write!(f, "\n  {right}")?;
        }
        Ok(())
    }
}

impl fmt::Display for PlanErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, error) in self.0.iter().take(SHOWN).enumerate() {
            if i > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{error}")?;
        }
        match self.0.len().saturating_sub(SHOWN) {
            0 => Ok(()),
            more => write!(f, "\nand {more} more"),
        }
    }
}

impl std::error::Error for PlanErrors {}
