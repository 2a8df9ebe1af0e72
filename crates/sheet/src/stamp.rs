//! Which log a sheet is of, and how to print it.

use crate::SheetError;
use crate::fingerprint::{DocumentKind, Fingerprint, Mark};
use crate::form::{Form, Paper};

/// What a sheet must say about its origin. Nothing in it may depend on when or where the sheet is made: pass the time
/// of the log's last entry, so that the same log gives the same bytes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// Title of the document, shown on the first page (`Inspection sheet`).
    pub title: String,
    /// SHA-256 of the plan's text, 64 hexadecimal digits.
    pub plan_sha256: String,
    /// Head of the log's chain, 64 hexadecimal digits.
    pub head: String,
    pub entries: u64,
    /// When the last of them was written: `2031-04-05T06:07:08Z`.
    pub made_at: String,
    pub program: String,
    pub paper: Paper,
    pub form: Form,
}

impl Stamp {
    /// The fingerprint.
    ///
    /// # Errors
    /// If a fingerprint is not 64 hexadecimal digits.
    pub fn fingerprint(&self) -> Result<Fingerprint, SheetError> {
        Fingerprint::new(&self.plan_sha256, &self.head, self.entries)
    }

    pub(crate) fn mark(&self, kind: DocumentKind) -> Result<Mark, SheetError> {
        Ok(Mark {
            kind,
            fingerprint: self.fingerprint()?,
            paper: self.paper,
            form: self.form.clone(),
            made_at: Clock::read(&self.made_at)?.to_string(),
        })
    }
}

/// An instant in UTC, to the second.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Clock {
    pub year: u16,
    pub month: u8,
    pub day: u8,
    pub hour: u8,
    pub minute: u8,
    pub second: u8,
}

impl Clock {
    pub(crate) fn read(text: &str) -> Result<Self, SheetError> {
        Self::parts(text).ok_or_else(|| SheetError::MadeAt { text: text.to_owned() })
    }

    fn parts(text: &str) -> Option<Self> {
        let field = |from: usize, to: usize| {
            let digits = text.get(from..to)?;
            digits.bytes().all(|b| b.is_ascii_digit()).then(|| digits.parse::<u16>().ok())?
        };
        let small = |from: usize, most: u16, least: u16| {
            let value = field(from, from + 2)?;
            (least..=most).contains(&value).then(|| u8::try_from(value).ok())?
        };
        let shape = text.len() >= 20
            && [(4, "-"), (7, "-"), (10, "T"), (13, ":"), (16, ":")]
                .into_iter()
                .all(|(at, mark)| text.get(at..=at) == Some(mark))
            && text.ends_with('Z');
        if !shape {
            return None;
        }
        Some(Self {
            year: field(0, 4)?,
            month: small(5, 12, 1)?,
            day: small(8, 31, 1)?,
            hour: small(11, 23, 0)?,
            minute: small(14, 59, 0)?,
            second: small(17, 60, 0)?,
        })
    }
}

impl std::fmt::Display for Clock {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { year, month, day, hour, minute, second } = self;
        write!(f, "{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}Z")
    }
}
