//! Collects the mistakes of a file while it is read.

use super::TableFault;
use super::error::{FileError, FileErrors};
use alloc::format;
use alloc::string::String;
use alloc::vec::Vec;
use core::cell::{Cell, RefCell};
use core::fmt::Display;
use core::ops::Range;

/// The most mistakes kept; the rest are counted.
const KEPT: usize = 20;

/// Where the text comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// Somebody is writing it now, and can correct it.
    Written,
    /// A log holds it. A mistake that an earlier program accepted must not lock the log.
    Log,
}

/// The mistakes found so far.
#[derive(Debug)]
pub struct Mistakes<'t, W> {
    text: &'t str,
    source: Source,
    remarks: RefCell<Vec<String>>,
    found: RefCell<Vec<(usize, FileError<W>)>>,
    more: Cell<usize>,
}

impl<'t, W: Display + From<TableFault>> Mistakes<'t, W> {
    /// No mistakes yet, in a text from this source.
    #[must_use]
    pub fn of(text: &'t str, source: Source) -> Self {
        Self { text, source, remarks: RefCell::default(), found: RefCell::default(), more: Cell::new(0) }
    }

    /// Notes what an earlier program accepted: a mistake in a new file, a remark on one in a log.
    pub fn accepted_once(&self, span: Range<usize>, what: impl Into<W>, right: Option<String>) {
        match self.source {
            Source::Written => self.note(span, what, right),
            Source::Log => {
                let at = FileError::at(self.text, span, what.into(), None);
                self.remarks.borrow_mut().push(format!("line {}: {}", at.line, at.what));
            }
        }
    }

    /// The remarks on what an earlier program accepted.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        self.remarks.borrow().clone()
    }

    /// The text of the file.
    #[must_use]
    pub const fn text(&self) -> &'t str {
        self.text
    }

    /// Notes a mistake.
    pub fn note(&self, span: Range<usize>, what: impl Into<W>, right: Option<String>) {
        if self.full() {
            return self.one_more();
        }
        let at = span.start;
        self.found.borrow_mut().push((at, FileError::at(self.text, span, what.into(), right)));
    }

    /// Counts a mistake without details.
    pub fn one_more(&self) {
        self.more.set(self.more.get() + 1);
    }

    /// Whether further mistakes are only counted, so that no details are needed.
    #[must_use]
    pub fn full(&self) -> bool {
        self.found.borrow().len() >= KEPT
    }

    /// What was read, if there is no mistake; `of` is what the file is of.
    ///
    /// # Errors
    /// All mistakes, in text order.
    pub fn finish<T>(self, read: Option<T>, of: &'static str) -> Result<T, FileErrors<W>> {
        if self.found.borrow().is_empty() {
            if let Some(read) = read {
                return Ok(read);
            }
            self.note(0..0, TableFault::Incomplete(of), None);
        }
        let mut found = self.found.into_inner();
        found.sort_by_key(|(at, _)| *at);
        Err(FileErrors::new(found.into_iter().map(|(_, error)| error).collect(), self.more.get()))
    }
}
