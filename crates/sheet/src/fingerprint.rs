//! The fingerprint of a log: on the page for people, in the file for `verify`.

use crate::SheetError;
use crate::form::{Form, Paper};

/// Which plan, and which log up to which entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fingerprint {
    /// SHA-256 of the plan's text, 64 lower-case hexadecimal digits.
    pub plan_sha256: String,
    /// Head of the log's chain, 64 lower-case hexadecimal digits.
    pub head: String,
    /// Number of entries in the log.
    pub entries: u64,
}

impl Fingerprint {
    /// A fingerprint with its digits in lowercase.
    ///
    /// # Errors
    /// If one of the two is not 64 hexadecimal digits.
    pub fn new(plan_sha256: &str, head: &str, entries: u64) -> Result<Self, SheetError> {
        let digits = |which: &'static str, text: &str| {
            let good = text.len() == 64 && text.bytes().all(|b| b.is_ascii_hexdigit());
            if good {
                Ok(text.to_ascii_lowercase())
            } else {
                Err(SheetError::Fingerprint { which, text: text.to_owned() })
            }
        };
        Ok(Self { plan_sha256: digits("plan", plan_sha256)?, head: digits("log", head)?, entries })
    }
}

/// The kind of a document of this program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DocumentKind {
    Sheet,
    /// A comparison of two stages or of two wings.
    Comparison,
    /// A blank form, to fill in at the jig.
    Blank,
}

impl DocumentKind {
    const fn opens(self) -> &'static str {
        match self {
            Self::Sheet => "jigtrue-sheet-1 ",
            Self::Comparison => "jigtrue-comparison-1 ",
            Self::Blank => "jigtrue-form-1 ",
        }
    }
}

/// A document's description of itself in its metadata. For an inspection sheet it suffices to tell which log it is
/// of, and to make the same sheet again from the first `entries` entries of that log, byte for byte.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    pub kind: DocumentKind,
    pub fingerprint: Fingerprint,
    /// The paper it was laid out for.
    pub paper: Paper,
    /// Its form; sheets of version 0.1 have only one.
    pub form: Form,
    /// The time on it, `2031-04-05T06:07:08Z`.
    pub made_at: String,
}

const CLOSES: &str = " end";

impl Mark {
    pub(crate) fn text(&self) -> String {
        self.written(&format!("form={} ", self.form.written()))
    }

    fn written(&self, form: &str) -> String {
        let Fingerprint { plan_sha256, head, entries } = &self.fingerprint;
        let (paper, at) = (self.paper.word(), &self.made_at);
        let opens = self.kind.opens();
        format!("{opens}plan={plan_sha256} head={head} entries={entries} paper={paper} {form}at={at}{CLOSES}")
    }

    /// The mark of an inspection sheet, from the text between its start and its end.
    fn read(text: &str) -> Option<Self> {
        let mut words = text.split(' ').peekable();
        let mut field =
            |name: &str| words.next_if(|w| w.starts_with(name))?.strip_prefix(name)?.strip_prefix('=');
        let (plan, head, entries) = (field("plan")?, field("head")?, field("entries")?);
        let (paper, form, at) = (field("paper")?, field("form"), field("at")?);
        let mark = Self {
            kind: DocumentKind::Sheet,
            fingerprint: Fingerprint::new(plan, head, entries.parse().ok()?).ok()?,
            paper: Paper::from_word(paper)?,
            form: form.map_or(Some(Form::Full), Form::read)?,
            made_at: at.to_owned(),
        };
        let written = if form.is_some() { mark.text() } else { mark.written("") };
        // Only what this program writes is accepted: one spelling, nothing before or after it.
        (written == format!("{}{text}{CLOSES}", mark.kind.opens())).then_some(mark)
    }
}

/// The mark of an inspection sheet, read from the bytes of its PDF.
///
/// It is uncompressed in the metadata (as PDF/A requires), more than once; all copies must agree. `None` if the file
/// has no such mark, a damaged one or two different ones. The mark tells which log a sheet claims to be of; to know
/// that nothing on the sheet was altered, make it again from that log and compare the bytes.
pub fn mark_of_pdf(pdf: &[u8]) -> Option<Mark> {
    let opens = DocumentKind::Sheet.opens();
    let (mut found, mut rest) = (None::<Mark>, pdf);
    while let Some(at) = position(rest, opens.as_bytes()) {
        rest = rest.get(at + opens.len()..)?;
        let end = position(rest, CLOSES.as_bytes()).filter(|end| *end < 2000)?;
        let mark = Mark::read(std::str::from_utf8(rest.get(..end)?).ok()?)?;
        if found.as_ref().is_some_and(|before| *before != mark) {
            return None;
        }
        found = Some(mark);
    }
    found
}

/// Whether a PDF describes itself as a comparison.
pub fn is_comparison(pdf: &[u8]) -> bool {
    position(pdf, DocumentKind::Comparison.opens().as_bytes()).is_some()
}

/// Whether a PDF describes itself as a blank form.
pub fn is_blank_form(pdf: &[u8]) -> bool {
    position(pdf, DocumentKind::Blank.opens().as_bytes()).is_some()
}

fn position(hay: &[u8], needle: &[u8]) -> Option<usize> {
    hay.windows(needle.len()).position(|window| window == needle)
}

#[cfg(test)]
mod tests;
