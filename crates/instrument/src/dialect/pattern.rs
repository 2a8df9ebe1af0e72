//! Text lines of one form, as an instrument file describes them.

use super::Template;
use crate::lines::Lines;
use crate::values::Values;
use crate::{Fault, Sample, Text};
use core::fmt::Write;

/// Reads lines of one form.
#[derive(Clone, Debug)]
pub struct LineDecoder {
    template: Template,
    lines: Lines,
    values: Values,
}

impl LineDecoder {
    /// A decoder that has received nothing yet.
    #[must_use]
    pub(crate) const fn new(template: Template) -> Self {
        Self { template, lines: Lines::new(template.marks()), values: Values::new_const() }
    }

    /// See [`Decoder::received`](crate::Decoder::received).
    pub(crate) fn received(&mut self, bytes: &[u8]) -> usize {
        self.lines.received(bytes)
    }

    /// See [`Decoder::forget`](crate::Decoder::forget).
    pub(crate) fn forget(&mut self) {
        self.lines.forget();
        self.values.clear();
    }

    /// See [`Decoder::silence`](crate::Decoder::silence).
    pub(crate) const fn silence(&mut self) {
        self.lines.silence();
    }

    /// See [`Decoder::next`](crate::Decoder::next).
    #[inline]
    pub(crate) fn next(&mut self) -> Option<Result<Sample, Fault>> {
        if let Some(sample) = self.values.pop_at(0) {
            return Some(Ok(sample));
        }
        let line = match self.lines.next()? {
            Ok(line) => line,
            Err(fault) => return Some(Err(fault)),
        };
        let (lines, values) = (&self.lines, &mut self.values);
        values.clear();
        if !self.template.read(lines.from(line.start), line.len(), values) {
            values.clear();
            return Some(Err(Fault::Unfit { line: seen(lines.get(line)) }));
        }
        self.values.pop_at(0).map(Ok)
    }
}

/// A line made fit to show: characters that cannot be printed are written as numbers.
fn seen(line: &[u8]) -> Text<40> {
    let mut text = Text::default();
    for byte in line {
        let fits = match byte {
            b' '..=b'~' => text.write_char(char::from(*byte)),
            _ => write!(text, "\\x{byte:02X}"),
        };
        if fits.is_err() {
            break;
        }
    }
    text
}
